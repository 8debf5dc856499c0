"""The page of `over-limit`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

OVER_LIMIT = Name(
    name="over-limit",
    severity=Severity.ERROR,
    page="",
    wrong={},
    right={},
)
