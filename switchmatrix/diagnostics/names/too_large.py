"""The page of `too-large`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

TOO_LARGE = Name(
    name="too-large",
    severity=Severity.ERROR,
    page="",
    wrong={},
    right={},
)
