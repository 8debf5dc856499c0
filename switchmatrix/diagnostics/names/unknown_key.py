"""The page of `unknown-key`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

UNKNOWN_KEY = Name(
    name="unknown-key",
    severity=Severity.ERROR,
    page="""\
A word before a colon is none of the words that this place understands, most often
because of a slip of the keys. A line that is not understood does nothing, and on stage
you would only notice that the change did not come. If a word that is understood is
near, the finding names it; otherwise it lists what can stand there. Correct the
spelling, or move the line to the block where it belongs. Notes for people go after
`remark:`, or after a `#`.
""",
    wrong={
        "lantern.yaml": """\
song: Lantern
temop: 120
scenes:
  verse: {at: bar 1, gate: tight}
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
