"""The page of `like-order`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

LIKE_ORDER = Name(
    name="like-order",
    severity=Severity.WARNING,
    page="",
    wrong={},
    right={},
)
