"""The page of `value-missing`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

VALUE_MISSING = Name(
    name="value-missing",
    severity=Severity.ERROR,
    page="",
    wrong={},
    right={},
)
