"""The page of `missing-patch`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

MISSING_PATCH = Name(
    name="missing-patch",
    severity=Severity.ERROR,
    page="",
    wrong={},
    right={},
)
