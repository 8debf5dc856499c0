"""The page of `unknown-name`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

UNKNOWN_NAME = Name(
    name="unknown-name",
    severity=Severity.ERROR,
    page="",
    wrong={},
    right={},
)
