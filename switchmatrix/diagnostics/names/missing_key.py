"""The page of `missing-key`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

MISSING_KEY = Name(
    name="missing-key",
    severity=Severity.ERROR,
    page="",
    wrong={},
    right={},
)
