"""The page of `recall-over-hands`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

RECALL_OVER_HANDS = Name(
    name="recall-over-hands",
    severity=Severity.WARNING,
    page="",
    wrong={},
    right={},
)
