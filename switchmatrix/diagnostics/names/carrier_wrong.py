"""The page of `carrier-wrong`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

CARRIER_WRONG = Name(
    name="carrier-wrong",
    severity=Severity.ERROR,
    page="",
    wrong={},
    right={},
)
