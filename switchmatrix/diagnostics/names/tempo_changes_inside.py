"""The page of `tempo-changes-inside`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

TEMPO_CHANGES_INSIDE = Name(
    name="tempo-changes-inside",
    severity=Severity.WARNING,
    page="",
    wrong={},
    right={},
)
