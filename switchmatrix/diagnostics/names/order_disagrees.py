"""The page of `order-disagrees`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

ORDER_DISAGREES = Name(
    name="order-disagrees",
    severity=Severity.ERROR,
    page="",
    wrong={},
    right={},
)
