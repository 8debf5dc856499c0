"""The page of `not-in-hands`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

NOT_IN_HANDS = Name(
    name="not-in-hands",
    severity=Severity.ERROR,
    page="",
    wrong={},
    right={},
)
