"""The page of `home-gives-nothing`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

HOME_GIVES_NOTHING = Name(
    name="home-gives-nothing",
    severity=Severity.ERROR,
    page="",
    wrong={},
    right={},
)
