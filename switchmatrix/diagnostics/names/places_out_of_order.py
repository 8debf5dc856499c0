"""The page of `places-out-of-order`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

PLACES_OUT_OF_ORDER = Name(
    name="places-out-of-order",
    severity=Severity.ERROR,
    page="",
    wrong={},
    right={},
)
