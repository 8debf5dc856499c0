"""The page of `channel-clash`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

CHANNEL_CLASH = Name(
    name="channel-clash",
    severity=Severity.ERROR,
    page="""\
Two devices on one port listen on the same channel and act on the same messages.
Whatever is sent to one of them moves the other too, so the second box changes in songs
that never name it. Give one of them a channel of its own: set it on the box first, then
write the same number here. If every channel of the port is taken, put one of the two on
another port. Two devices may share a channel only where they have no message in common.
""",
    wrong={
        "rigs/a-rig.yaml": """\
rig: A rig
ports:
  rack: {out: rack, speed: din}
devices:
  gate-1: {port: rack, channel: 2, definition: plain-gate}
  gate-2: {port: rack, channel: 2, definition: plain-gate}
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
home: {gate: loose, gate-2.threshold: -45 dB, echo: {engage: off, patch: slap}}
""",
    },
    right={
        "rigs/a-rig.yaml": """\
rig: A rig
ports:
  rack: {out: rack, speed: din}
devices:
  gate-1: {port: rack, channel: 2, definition: plain-gate}
  gate-2: {port: rack, channel: 4, definition: plain-gate}
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
home: {gate: loose, gate-2.threshold: -45 dB, echo: {engage: off, patch: slap}}
""",
    },
)
