"""The page of `like-circle`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

LIKE_CIRCLE = Name(
    name="like-circle",
    severity=Severity.ERROR,
    page="""\
A scene is like another one that is, directly or in a few steps, like the first. Each
waits for the other to say what it is, so neither has a beginning and no state can be
worked out. Decide which of them comes first, write that one out in full, and take its
`like` away.
""",
    wrong={
        "lantern.yaml": """\
song: Lantern
tempo: 120
scenes:
  verse: {at: bar 1, like: chorus, gate: tight}
  chorus: {at: bar 9, like: verse, echo: cliff}
""",
    },
    right={
        "lantern.yaml": """\
song: Lantern
tempo: 120
scenes:
  verse: {at: bar 1, gate: tight}
  chorus: {at: bar 9, like: verse, echo: cliff}
""",
    },
)
