"""The page of `not-text`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

NOT_TEXT = Name(
    name="not-text",
    severity=Severity.ERROR,
    page="",
    wrong={},
    right={},
)
