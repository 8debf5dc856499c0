"""The page of `file-unreadable`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

FILE_UNREADABLE = Name(
    name="file-unreadable",
    severity=Severity.ERROR,
    page="",
    wrong={},
    right={},
)
