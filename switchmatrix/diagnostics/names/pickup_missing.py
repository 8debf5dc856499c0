"""The page of `pickup-missing`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

PICKUP_MISSING = Name(
    name="pickup-missing",
    severity=Severity.WARNING,
    page="",
    wrong={},
    right={},
)
