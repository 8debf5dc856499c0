"""The page of `recall-over-hands`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

RECALL_OVER_HANDS = Name(
    name="recall-over-hands",
    severity=Severity.WARNING,
    page="""\
One scene edits a patch, the next wants it as it is stored, so the box is sent the same
patch again. That recall also resets a control that the player is holding at that
moment, and it jumps under their hand. List under the patch's `stores` what the scenes
leave to it: the edited control is then sent back by itself, and the patch is not called
again. Or say the value in the scene that wants it back.
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
home: {gate: loose, echo: {engage: off, patch: slap}}
""",
        "lantern.yaml": """\
song: Lantern
tempo: 120
hands: [echo.mix]
scenes:
  verse: {at: bar 1, echo: slap}
  chorus: {at: bar 9, like: verse, echo.time: 400 ms}
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
      slap: {at: 4, stores: {time: 120 ms}}
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
hands: [echo.mix]
scenes:
  verse: {at: bar 1, echo: slap}
  chorus: {at: bar 9, like: verse, echo.time: 400 ms}
""",
    },
)
