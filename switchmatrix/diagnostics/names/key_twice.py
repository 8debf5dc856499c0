"""The page of `key-twice`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

KEY_TWICE = Name(
    name="key-twice",
    severity=Severity.ERROR,
    page="""\
The same name is given twice in one block: two scenes called `verse`, or one setting
written twice in a scene. Only one of the two could count, and you could not see on
stage which one it was, so neither is chosen for you. This often comes of copying a
scene and forgetting to rename the copy. Rename one of them, or delete the one that is
out of date; the finding shows both places.
""",
    wrong={
        "lantern.yaml": """\
song: Lantern
tempo: 120
scenes:
  verse: {at: bar 1, gate: tight}
  chorus: {at: bar 9, like: verse, echo: cliff}
  verse: {at: bar 17, like: verse, gate: loose}
""",
    },
    right={
        "lantern.yaml": """\
song: Lantern
tempo: 120
scenes:
  verse: {at: bar 1, gate: tight}
  chorus: {at: bar 9, like: verse, echo: cliff}
  verse 2: {at: bar 17, like: verse, gate: loose}
""",
    },
)
