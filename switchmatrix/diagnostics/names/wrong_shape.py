"""The page of `wrong-shape`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

WRONG_SHAPE = Name(
    name="wrong-shape",
    severity=Severity.ERROR,
    page="",
    wrong={},
    right={},
)
