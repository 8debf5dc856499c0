"""The page of `left-to-repeat`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

LEFT_TO_REPEAT = Name(
    name="left-to-repeat",
    severity=Severity.ERROR,
    page="",
    wrong={},
    right={},
)
