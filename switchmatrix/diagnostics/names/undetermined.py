"""The page of `undetermined`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

UNDETERMINED = Name(
    name="undetermined",
    severity=Severity.WARNING,
    page="",
    wrong={},
    right={},
)
