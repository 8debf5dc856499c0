"""The page of `hazard`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

HAZARD = Name(
    name="hazard",
    severity=Severity.ERROR,
    page="",
    wrong={},
    right={},
)
