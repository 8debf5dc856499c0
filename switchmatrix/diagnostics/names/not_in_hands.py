"""The page of `not-in-hands`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

NOT_IN_HANDS = Name(
    name="not-in-hands",
    severity=Severity.ERROR,
    page="""\
A scene leaves a control to the player, but neither the rig nor the song says that the
player moves it. Nobody would be minding it, and it would stay where the last scene put
it. If there really is a pedal or a knob under the player's hand or foot, name the
control under `hands`: in the rig's file where that holds all night, in the song where
it holds for that song only. If not, say the value that the scene wants.
""",
    wrong={
        "lantern.yaml": """\
song: Lantern
tempo: 120
scenes:
  verse: {at: bar 1, gate: tight}
  chorus: {at: bar 9, like: verse, echo: cliff, echo.mix: leave}
""",
    },
    right={
        "lantern.yaml": """\
song: Lantern
tempo: 120
hands: [echo.mix]
scenes:
  verse: {at: bar 1, gate: tight}
  chorus: {at: bar 9, like: verse, echo: cliff, echo.mix: leave}
""",
    },
)
