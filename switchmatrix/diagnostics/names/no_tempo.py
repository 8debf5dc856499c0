"""The page of `no-tempo`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

NO_TEMPO = Name(
    name="no-tempo",
    severity=Severity.ERROR,
    page="",
    wrong={},
    right={},
)
