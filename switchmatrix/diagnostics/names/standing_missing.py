"""The page of `standing-missing`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

STANDING_MISSING = Name(
    name="standing-missing",
    severity=Severity.ERROR,
    page="",
    wrong={},
    right={},
)
