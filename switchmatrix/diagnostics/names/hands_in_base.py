"""The page of `hands-in-base`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

HANDS_IN_BASE = Name(
    name="hands-in-base",
    severity=Severity.WARNING,
    page="",
    wrong={},
    right={},
)
