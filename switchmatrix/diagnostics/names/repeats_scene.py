"""The page of `repeats-scene`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

REPEATS_SCENE = Name(
    name="repeats-scene",
    severity=Severity.HINT,
    page="""\
Two scenes of a song have every control alike, and neither says that it is like the
other. It works, but when one of them is changed at rehearsal the other is easily
forgotten. Write `like` if they are meant to stay the same, or give the same scene a
second place. If they are meant to differ, a line is missing.
""",
    wrong={
        "lantern.yaml": """\
song: Lantern
tempo: 120
scenes:
  verse: {at: bar 1, gate: tight}
  chorus: {at: bar 9, like: verse, echo: cliff}
  bridge: {at: bar 17, gate: tight}
""",
    },
    right={
        "lantern.yaml": """\
song: Lantern
tempo: 120
scenes:
  verse: {at: bar 1, gate: tight}
  chorus: {at: bar 9, like: verse, echo: cliff}
  bridge: {at: bar 17, like: verse}
""",
    },
)
