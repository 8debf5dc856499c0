"""The page of `not-translated`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

NOT_TRANSLATED = Name(
    name="not-translated",
    severity=Severity.ERROR,
    page="",
    wrong={},
    right={},
)
