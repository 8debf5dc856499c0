"""The page of `repeat-missing`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

REPEAT_MISSING = Name(
    name="repeat-missing",
    severity=Severity.ERROR,
    page="",
    wrong={},
    right={},
)
