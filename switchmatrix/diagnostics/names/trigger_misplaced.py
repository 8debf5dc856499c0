"""The page of `trigger-misplaced`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

TRIGGER_MISPLACED = Name(
    name="trigger-misplaced",
    severity=Severity.ERROR,
    page="",
    wrong={},
    right={},
)
