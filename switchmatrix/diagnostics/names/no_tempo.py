"""The page of `no-tempo`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

NO_TEMPO = Name(
    name="no-tempo",
    severity=Severity.ERROR,
    page="""\
A time is written as a note value, such as a quarter note, and there is no one tempo to
work it out from. The song gives none, or it gives several and the scene has no place
that would say which of them holds. Without it the echo would miss the beat. Give the
song its `tempo`, give the scene its place or a `tempo` of its own, or write the time in
milliseconds.
""",
    wrong={
        "lantern.yaml": """\
song: Lantern
scenes:
  verse: {at: bar 1, gate: tight}
  chorus: {at: bar 9, like: verse, echo: cliff, echo.time: 1/4}
""",
    },
    right={
        "lantern.yaml": """\
song: Lantern
tempo: 120
scenes:
  verse: {at: bar 1, gate: tight}
  chorus: {at: bar 9, like: verse, echo: cliff, echo.time: 1/4}
""",
    },
)
