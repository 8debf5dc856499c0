"""The page of `hazard`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

HAZARD = Name(
    name="hazard",
    severity=Severity.ERROR,
    page="""\
The rig holds something that can hurt people: pyrotechnics, flame, gas effects, smoke or
haze, lasers, strobes, flying, hoists, moving scenery, mains relays, speaker-load
switching, amplifier standby or power, or a controller or contact that fires one of
these. A wrong patch spoils a song; a wrong message to one of these can injure or kill.
So nothing is compiled for it and nothing is sent to it, and no setting turns that off.
Such effects belong to persons licensed or competent as local law requires, with
interlocks and an emergency stop of their own. Take the device out of the rig's file,
and keep it off every port that this tool sends to. The tool knows only what the
definitions say: it cannot see what else hangs on a port.
""",
    wrong={
        "definitions/haze-machine.yaml": """\
definition: haze machine
hazard: makes haze in the house
controls:
  output: {kind: switch, cc: 80, main: yes}
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
      slap: 4
      cliff: {at: 17, stores: {mix: 35 %, time: 480 ms}}
  haze: {port: rack, channel: 9, definition: haze-machine}
vocabulary:
  gate:
    tight: {gate-1.threshold: -38 dB}
    loose: {gate-1.threshold: -55 dB}
home: {gate: loose, echo: {engage: off, patch: slap}}
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
