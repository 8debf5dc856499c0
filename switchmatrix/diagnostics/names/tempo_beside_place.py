"""The page of `tempo-beside-place`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

TEMPO_BESIDE_PLACE = Name(
    name="tempo-beside-place",
    severity=Severity.ERROR,
    page="",
    wrong={},
    right={},
)
