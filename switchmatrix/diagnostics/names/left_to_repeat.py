"""The page of `left-to-repeat`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

LEFT_TO_REPEAT = Name(
    name="left-to-repeat",
    severity=Severity.ERROR,
    page="""\
A scene leaves a control as its patch has it, and the box may already be in that patch
when the scene comes. This box then takes no notice of the program or flips a switch, as
its definition says under `repeat`. An edit from another scene would stay, and the sound
would depend on where the band came from. Say under the patch's `stores` what it holds:
the control is then sent by itself. The numbers can be read off the box with the patch
called up. Or say the value in every scene that uses the patch.
""",
    wrong={
        "definitions/two-tap-echo.yaml": """\
definition: two-tap echo
programs: {count: 128, first: 1, settle: 35 ms, repeat: nothing}
controls:
  engage: {kind: switch, cc: 80, main: yes}
  mix: {kind: level, cc: 21, range: [0 %, 100 %], codes: [0, 100], stored: yes}
  time: {kind: time, cc: 22, range: [0 ms, 1270 ms], stored: yes}
""",
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
    },
    right={
        "definitions/two-tap-echo.yaml": """\
definition: two-tap echo
programs: {count: 128, first: 1, settle: 35 ms, repeat: nothing}
controls:
  engage: {kind: switch, cc: 80, main: yes}
  mix: {kind: level, cc: 21, range: [0 %, 100 %], codes: [0, 100], stored: yes}
  time: {kind: time, cc: 22, range: [0 ms, 1270 ms], stored: yes}
""",
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
      slap: {at: 4, stores: {time: 120 ms, mix: 20 %}}
      cliff: {at: 17, stores: {mix: 35 %, time: 480 ms}}
vocabulary:
  gate:
    tight: {gate-1.threshold: -38 dB}
    loose: {gate-1.threshold: -55 dB}
home: {gate: loose, echo: {engage: off, patch: slap}}
""",
    },
)
