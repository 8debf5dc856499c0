"""The page of `controller-reaches`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

CONTROLLER_REACHES = Name(
    name="controller-reaches",
    severity=Severity.HINT,
    page="",
    wrong={},
    right={},
)
