"""The page of `number-outside`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

NUMBER_OUTSIDE = Name(
    name="number-outside",
    severity=Severity.ERROR,
    page="",
    wrong={},
    right={},
)
