"""The page of `unknown-key`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

UNKNOWN_KEY = Name(
    name="unknown-key",
    severity=Severity.ERROR,
    page="",
    wrong={},
    right={},
)
