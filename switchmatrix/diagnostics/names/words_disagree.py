"""The page of `words-disagree`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

WORDS_DISAGREE = Name(
    name="words-disagree",
    severity=Severity.ERROR,
    page="",
    wrong={},
    right={},
)
