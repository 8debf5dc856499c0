"""The page of `unknown-word`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

UNKNOWN_WORD = Name(
    name="unknown-word",
    severity=Severity.ERROR,
    page="",
    wrong={},
    right={},
)
