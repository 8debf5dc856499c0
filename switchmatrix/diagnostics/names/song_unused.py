"""The page of `song-unused`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

SONG_UNUSED = Name(
    name="song-unused",
    severity=Severity.HINT,
    page="",
    wrong={},
    right={},
)
