"""The page of `file-passed-over`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

FILE_PASSED_OVER = Name(
    name="file-passed-over",
    severity=Severity.HINT,
    page="",
    wrong={},
    right={},
)
