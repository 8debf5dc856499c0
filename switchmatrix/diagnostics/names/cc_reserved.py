"""The page of `cc-reserved`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

CC_RESERVED = Name(
    name="cc-reserved",
    severity=Severity.ERROR,
    page="",
    wrong={},
    right={},
)
