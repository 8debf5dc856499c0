"""The page of `controller-reaches`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

CONTROLLER_REACHES = Name(
    name="controller-reaches",
    severity=Severity.HINT,
    page="""\
A controller of the rig, such as a pedal board, sends on the same port and channel as a
device and can move something of it. The tool cannot know what the player has pressed
since the last scene, so it takes nothing for granted there and sends those settings
again with every scene. That is safe, but it adds messages, and a patch that is called
again may be heard. If the player is meant to move the device, there is nothing to do.
If not, put the controller on a channel of its own, on the controller and here, or take
out of `sends` what it never sends.
""",
    wrong={
        "rigs/a-rig.yaml": """\
rig: A rig
ports:
  rack: {out: rack, speed: din}
controllers:
  floor: {port: rack, channel: 3, sends: {cc: [80]}}
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
    right={
        "rigs/a-rig.yaml": """\
rig: A rig
ports:
  rack: {out: rack, speed: din}
controllers:
  floor: {port: rack, channel: 16, sends: {cc: [80]}}
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
