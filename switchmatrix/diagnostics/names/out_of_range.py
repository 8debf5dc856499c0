"""The page of `out-of-range`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

OUT_OF_RANGE = Name(
    name="out-of-range",
    severity=Severity.ERROR,
    page="""\
A value lies outside what the control can do. It could only be cut off at the end of the
range, and then the scene would not sound as written, with nothing on stage to tell you.
The finding gives both ends of the range. Write a value that lies between them. If the
box can truly do more, correct the control's range in its definition from the manual: a
range that is wrong there makes every other setting of the control wrong too.
""",
    wrong={
        "lantern.yaml": """\
song: Lantern
tempo: 120
scenes:
  verse: {at: bar 1, gate: tight}
  chorus: {at: bar 9, like: verse, echo: {engage: on, patch: cliff, mix: 140 %}}
""",
    },
    right={
        "lantern.yaml": """\
song: Lantern
tempo: 120
scenes:
  verse: {at: bar 1, gate: tight}
  chorus: {at: bar 9, like: verse, echo: {engage: on, patch: cliff, mix: 100 %}}
""",
    },
)
