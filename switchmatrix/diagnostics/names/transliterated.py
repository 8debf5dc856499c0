"""The page of `transliterated`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

TRANSLITERATED = Name(
    name="transliterated",
    severity=Severity.HINT,
    page="",
    wrong={},
    right={},
)
