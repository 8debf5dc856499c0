"""The page of `tempo-changes-inside`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

TEMPO_CHANGES_INSIDE = Name(
    name="tempo-changes-inside",
    severity=Severity.WARNING,
    page="""\
The tempo changes in the middle of a scene that has a time written as a note value. That
time is sent once, when the scene begins, and it keeps the old tempo: from the change on
the repeats drift off the beat. Give a scene a place where the tempo changes. The same
scene will do: only its new time is sent.
""",
    wrong={
        "lantern.yaml": """\
song: Lantern
tempo: [{at: bar 1, bpm: 120}, {at: bar 13, bpm: 126}]
scenes:
  verse: {at: bar 1, gate: tight}
  chorus: {at: bar 9, like: verse, echo: cliff, echo.time: 1/4}
""",
    },
    right={
        "lantern.yaml": """\
song: Lantern
tempo: [{at: bar 1, bpm: 120}, {at: bar 13, bpm: 126}]
scenes:
  verse: {at: bar 1, gate: tight}
  chorus: {at: [bar 9, bar 13], like: verse, echo: cliff, echo.time: 1/4}
""",
    },
)
