"""The page of `tempo-beside-place`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

TEMPO_BESIDE_PLACE = Name(
    name="tempo-beside-place",
    severity=Severity.ERROR,
    page="""\
A scene that has a place also gives a tempo of its own. At its place the song's tempo
holds, so the two could disagree and an echo would run against the band. Write the
change into the song's `tempo` list at that bar. A scene's own `tempo` is for songs
whose scenes have no places.
""",
    wrong={
        "lantern.yaml": """\
song: Lantern
tempo: 120
scenes:
  verse: {at: bar 1, gate: tight}
  chorus: {at: bar 9, like: verse, tempo: 126, echo: cliff, echo.time: 1/4}
""",
    },
    right={
        "lantern.yaml": """\
song: Lantern
tempo: [{at: bar 1, bpm: 120}, {at: bar 9, bpm: 126}]
scenes:
  verse: {at: bar 1, gate: tight}
  chorus: {at: bar 9, like: verse, echo: cliff, echo.time: 1/4}
""",
    },
)
