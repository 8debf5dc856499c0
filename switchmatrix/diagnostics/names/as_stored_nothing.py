"""The page of `as-stored-nothing`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

AS_STORED_NOTHING = Name(
    name="as-stored-nothing",
    severity=Severity.ERROR,
    page="""\
A line leaves a control as the patch has it, but neither the scene nor anything below it
chooses a patch for that device. Whatever patch happened to be called last would decide
the sound. Choose one in the scene, in the song's base, or for the whole show under
`home` in the rig's file. Or say the control's value.
""",
    wrong={
        "rigs/a-rig.yaml": """\
rig: A rig
ports:
  rack: {out: rack, speed: din}
devices:
  gate-1: {port: rack, channel: 2, definition: plain-gate}
  echo:
    port: rack
    channel: 3
    definition: two-tap-echo
    patches:
      slap: 4
      cliff: {at: 17, stores: {mix: 35 %, time: 480 ms}}
vocabulary:
  gate:
    tight: {gate-1.threshold: -38 dB}
    loose: {gate-1.threshold: -55 dB}
home: {gate: loose, echo: off}
""",
        "lantern.yaml": """\
song: Lantern
tempo: 120
scenes:
  verse: {at: bar 1, echo: on, echo.mix: 60 %}
  chorus: {at: bar 9, like: verse, echo.mix: as stored}
""",
    },
    right={
        "rigs/a-rig.yaml": """\
rig: A rig
ports:
  rack: {out: rack, speed: din}
devices:
  gate-1: {port: rack, channel: 2, definition: plain-gate}
  echo:
    port: rack
    channel: 3
    definition: two-tap-echo
    patches:
      slap: 4
      cliff: {at: 17, stores: {mix: 35 %, time: 480 ms}}
vocabulary:
  gate:
    tight: {gate-1.threshold: -38 dB}
    loose: {gate-1.threshold: -55 dB}
home: {gate: loose, echo: {engage: off, patch: slap}}
""",
        "lantern.yaml": """\
song: Lantern
tempo: 120
scenes:
  verse: {at: bar 1, echo: on, echo.mix: 60 %}
  chorus: {at: bar 9, like: verse, echo.mix: as stored}
""",
    },
)
