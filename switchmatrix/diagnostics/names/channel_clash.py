"""The page of `channel-clash`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

CHANNEL_CLASH = Name(
    name="channel-clash",
    severity=Severity.ERROR,
    page="",
    wrong={},
    right={},
)
