"""The page of `never-visited`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

NEVER_VISITED = Name(
    name="never-visited",
    severity=Severity.HINT,
    page="""\
The other scenes of the song have places (or the song gives an order), but this one has
none, and no scene is like it. It has a file and a state of its own, so it can be called by
hand, but the song as it runs never comes to it. Most often an `at` was forgotten. Give it
a place; if it is there to be called by hand alone, there is nothing to do.
""",
    wrong={
        "lantern.yaml": """\
song: Lantern
tempo: 120
scenes:
  verse: {at: bar 1, gate: tight}
  chorus: {like: verse, echo: cliff}
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
