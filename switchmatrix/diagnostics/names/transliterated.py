"""The page of `transliterated`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

TRANSLITERATED = Name(
    name="transliterated",
    severity=Severity.HINT,
    page="""\
A title or a name has letters that the text in a MIDI file cannot hold. The file is
written with the nearest plain letters, and with `?` where there are none. The messages
are not touched: only what a sequencer shows as the name of a song, a scene or a device
is different. If it reads well, leave it. If people will look for the song by that name,
choose a spelling that everybody's screen can show.
""",
    wrong={
        "lantern.yaml": """\
song: Lantern for Zuźa
tempo: 120
scenes:
  verse: {at: bar 1, gate: tight}
  chorus: {at: bar 9, like: verse, echo: cliff}
""",
    },
    right={
        "lantern.yaml": """\
song: Lantern for Zuza
tempo: 120
scenes:
  verse: {at: bar 1, gate: tight}
  chorus: {at: bar 9, like: verse, echo: cliff}
""",
    },
)
