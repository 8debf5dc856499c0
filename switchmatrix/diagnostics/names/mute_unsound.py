"""The page of `mute-unsound`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

MUTE_UNSOUND = Name(
    name="mute-unsound",
    severity=Severity.ERROR,
    page="""\
A mute holds a control at one value while something else moves, and then gives it back the
value of the scene. That only works with a control that can be set outright, that nobody else
moves meanwhile, and that every scene gives a value. A mute that does not hold lets the bang
through; one that does not open again is silence for the rest of the song. Hold a switch of
the mixer or of a loop, and give it a value under `home`.
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
    patches: {slap: 4, cliff: {at: 17, stores: {mix: 35 %, time: 480 ms}}}
vocabulary:
  gate:
    tight: {gate-1.threshold: -38 dB}
    loose: {gate-1.threshold: -55 dB}
home: {gate: loose, echo: {engage: off, patch: slap}}
mutes:
  - {while: [echo.patch], hold: {echo.mix: 0 %}}
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
    patches: {slap: 4, cliff: {at: 17, stores: {mix: 35 %, time: 480 ms}}}
vocabulary:
  gate:
    tight: {gate-1.threshold: -38 dB}
    loose: {gate-1.threshold: -55 dB}
home: {gate: loose, echo: {engage: off, patch: slap}}
mutes:
  - {while: [echo.patch], hold: {echo.engage: off}}
""",
    },
)
