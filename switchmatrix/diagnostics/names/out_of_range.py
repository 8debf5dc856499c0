"""The page of `out-of-range`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

OUT_OF_RANGE = Name(
    name="out-of-range",
    severity=Severity.ERROR,
    page="",
    wrong={},
    right={},
)
