"""The page of `unknown-word`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

UNKNOWN_WORD = Name(
    name="unknown-word",
    severity=Severity.ERROR,
    page="""\
An entry of the rig's vocabulary has no such word. Most often it is a slip in spelling;
or this rig has the entry but never got this word, as happens when the spare rig is
written after the songs. Without the word there is nothing to send, and the sound of the
scene before would stay. The finding names the nearest word, or lists the words that the
entry has. Correct the word in the song, or add it under `vocabulary` in the rig's file.
""",
    wrong={
        "lantern.yaml": """\
song: Lantern
tempo: 120
scenes:
  verse: {at: bar 1, gate: tigth}
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
