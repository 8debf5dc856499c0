"""The page of `bad-place`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

BAD_PLACE = Name(
    name="bad-place",
    severity=Severity.ERROR,
    page="",
    wrong={},
    right={},
)
