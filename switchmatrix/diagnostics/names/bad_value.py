"""The page of `bad-value`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

BAD_VALUE = Name(
    name="bad-value",
    severity=Severity.ERROR,
    page="""\
A value cannot be read as a setting of its control. A level needs its unit, and the unit
that the control is set in: `40 %`, `-38 dB`. A time is written like `480 ms`, `1.5 s`,
`2 Hz` or `1/8 dotted`, a decimal has a point and no comma, and a switch takes `on` or
`off`. A guess could be far too loud or far too long, so nothing is sent until it is
clear. The finding says what this control understands; write it that way.
""",
    wrong={
        "lantern.yaml": """\
song: Lantern
tempo: 120
scenes:
  verse: {at: bar 1, gate: tight}
  chorus: {at: bar 9, like: verse, echo: {engage: on, patch: cliff, mix: 40}}
""",
    },
    right={
        "lantern.yaml": """\
song: Lantern
tempo: 120
scenes:
  verse: {at: bar 1, gate: tight}
  chorus: {at: bar 9, like: verse, echo: {engage: on, patch: cliff, mix: 40 %}}
""",
    },
)
