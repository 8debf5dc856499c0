"""The page of `set-while-bypassed`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

SET_WHILE_BYPASSED = Name(
    name="set-while-bypassed",
    severity=Severity.WARNING,
    page="",
    wrong={},
    right={},
)
