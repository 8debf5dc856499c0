"""The page of `patch-outside`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

PATCH_OUTSIDE = Name(
    name="patch-outside",
    severity=Severity.ERROR,
    page="",
    wrong={},
    right={},
)
