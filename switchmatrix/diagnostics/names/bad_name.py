"""The page of `bad-name`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

BAD_NAME = Name(
    name="bad-name",
    severity=Severity.ERROR,
    page="",
    wrong={},
    right={},
)
