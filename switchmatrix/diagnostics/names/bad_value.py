"""The page of `bad-value`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

BAD_VALUE = Name(
    name="bad-value",
    severity=Severity.ERROR,
    page="",
    wrong={},
    right={},
)
