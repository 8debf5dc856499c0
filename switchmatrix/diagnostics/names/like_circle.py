"""The page of `like-circle`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

LIKE_CIRCLE = Name(
    name="like-circle",
    severity=Severity.ERROR,
    page="",
    wrong={},
    right={},
)
