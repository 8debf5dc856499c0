"""The page of `patch-undoes-word`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

PATCH_UNDOES_WORD = Name(
    name="patch-undoes-word",
    severity=Severity.WARNING,
    page="",
    wrong={},
    right={},
)
