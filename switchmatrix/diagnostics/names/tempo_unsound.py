"""The page of `tempo-unsound`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

TEMPO_UNSOUND = Name(
    name="tempo-unsound",
    severity=Severity.ERROR,
    page="",
    wrong={},
    right={},
)
