"""The page of `rounded`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

ROUNDED = Name(
    name="rounded",
    severity=Severity.WARNING,
    page="",
    wrong={},
    right={},
)
