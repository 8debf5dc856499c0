"""The page of `carrier-twice`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

CARRIER_TWICE = Name(
    name="carrier-twice",
    severity=Severity.ERROR,
    page="",
    wrong={},
    right={},
)
