"""The page of `tempo-unsound`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

TEMPO_UNSOUND = Name(
    name="tempo-unsound",
    severity=Severity.ERROR,
    page="""\
The song's tempo or meter cannot be what is written: it is far outside what any music
has, it is no note value or no meter, its list does not say what holds from bar 1 on, or
the list runs backwards. Every place and every echo time of the song is worked out from
it, so all of them would be wrong. Write beats a minute, `beat` as a note value such as
`1/4 dotted`, a meter such as `6/8`, and the list in order from bar 1.
""",
    wrong={
        "lantern.yaml": """\
song: Lantern
tempo: [{at: bar 9, bpm: 126}]
scenes:
  verse: {at: bar 1, gate: tight}
  chorus: {at: bar 9, like: verse, echo: cliff}
""",
    },
    right={
        "lantern.yaml": """\
song: Lantern
tempo: [{at: bar 1, bpm: 120}, {at: bar 9, bpm: 126}]
scenes:
  verse: {at: bar 1, gate: tight}
  chorus: {at: bar 9, like: verse, echo: cliff}
""",
    },
)
