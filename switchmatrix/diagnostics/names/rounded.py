"""The page of `rounded`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

ROUNDED = Name(
    name="rounded",
    severity=Severity.WARNING,
    page="""\
The box cannot do exactly what is asked: MIDI gives it a limited number of steps, and
the nearest step is further off than the control allows. The nearest step is what is
sent, and the finding says what the box will really do. For a time, a miss of more than
2 % of the time asked is said, since a delay that is out of time can be heard; for a
level it is 2 % of its whole range. Write the value that the box can do, so that the
song says what is heard. If such a miss does no harm on this control, give it a wider
`tolerance` in its definition.
""",
    wrong={
        "lantern.yaml": """\
song: Lantern
tempo: 120
scenes:
  verse: {at: bar 1, gate: tight}
  chorus: {at: bar 9, like: verse, echo: {engage: on, patch: cliff, time: 84 ms}}
""",
    },
    right={
        "lantern.yaml": """\
song: Lantern
tempo: 120
scenes:
  verse: {at: bar 1, gate: tight}
  chorus: {at: bar 9, like: verse, echo: {engage: on, patch: cliff, time: 80 ms}}
""",
    },
)
