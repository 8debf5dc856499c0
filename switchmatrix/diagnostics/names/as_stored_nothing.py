"""The page of `as-stored-nothing`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

AS_STORED_NOTHING = Name(
    name="as-stored-nothing",
    severity=Severity.ERROR,
    page="",
    wrong={},
    right={},
)
