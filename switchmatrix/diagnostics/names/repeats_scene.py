"""The page of `repeats-scene`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

REPEATS_SCENE = Name(
    name="repeats-scene",
    severity=Severity.HINT,
    page="",
    wrong={},
    right={},
)
