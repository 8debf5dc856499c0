"""The page of `patch-twice`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

PATCH_TWICE = Name(
    name="patch-twice",
    severity=Severity.WARNING,
    page="",
    wrong={},
    right={},
)
