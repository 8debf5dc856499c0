"""The page of `key-twice`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

KEY_TWICE = Name(
    name="key-twice",
    severity=Severity.ERROR,
    page="",
    wrong={},
    right={},
)
