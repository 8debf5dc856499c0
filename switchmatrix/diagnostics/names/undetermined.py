"""The page of `undetermined`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

UNDETERMINED = Name(
    name="undetermined",
    severity=Severity.WARNING,
    page="""\
Nothing in a scene, in what lies below it or in `home` says where this control stands,
no patch stores it, and the player does not hold it. It would stay wherever the scene
before had left it, or wherever somebody put it at sound check. The show would then
sound different after a jump or a stop. Give it a value under `home` in the rig's file.
If the player moves it, name it under `hands` instead.
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
home: {gate: loose, echo.patch: slap}
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
    },
)
