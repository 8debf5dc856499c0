"""The page of `not-stored`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

NOT_STORED = Name(
    name="not-stored",
    severity=Severity.ERROR,
    page="",
    wrong={},
    right={},
)
