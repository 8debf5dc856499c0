"""The page of `absent-clash`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

ABSENT_CLASH = Name(
    name="absent-clash",
    severity=Severity.ERROR,
    page="",
    wrong={},
    right={},
)
