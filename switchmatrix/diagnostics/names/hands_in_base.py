"""The page of `hands-in-base`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

HANDS_IN_BASE = Name(
    name="hands-in-base",
    severity=Severity.WARNING,
    page="""\
A song's base, or what an instrument sets, gives a value to a control that the player
moves. What the player holds is sent only by a scene that names it itself, so that a
pedal does not jump under somebody's foot. This line will therefore never be sent. Move
it into the scene that is to set the control, or into `home` if it is where the control
stands before the show. If nobody moves the control in this song, take it out of
`hands`.
""",
    wrong={
        "lantern.yaml": """\
song: Lantern
tempo: 120
hands: [echo.mix]
base: {echo.mix: 20 %}
scenes:
  verse: {at: bar 1, gate: tight}
  chorus: {at: bar 9, like: verse, echo: cliff}
""",
    },
    right={
        "lantern.yaml": """\
song: Lantern
tempo: 120
hands: [echo.mix]
scenes:
  verse: {at: bar 1, gate: tight}
  chorus: {at: bar 9, like: verse, echo: cliff, echo.mix: 20 %}
""",
    },
)
