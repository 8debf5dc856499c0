"""The page of `program-shared`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

PROGRAM_SHARED = Name(
    name="program-shared",
    severity=Severity.ERROR,
    page="",
    wrong={},
    right={},
)
