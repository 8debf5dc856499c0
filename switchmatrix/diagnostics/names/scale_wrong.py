"""The page of `scale-wrong`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

SCALE_WRONG = Name(
    name="scale-wrong",
    severity=Severity.ERROR,
    page="",
    wrong={},
    right={},
)
