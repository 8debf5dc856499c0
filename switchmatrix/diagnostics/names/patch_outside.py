"""The page of `patch-outside`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

PATCH_OUTSIDE = Name(
    name="patch-outside",
    severity=Severity.ERROR,
    page="""\
The rig gives a patch a number that the device has not got. Patch numbers are written as
the front panel shows them, and some panels count from 1 and others from 0; the
definition says which, as `first`. A number outside would call no sound at all, or
another one than you mean. Look at the front panel with the sound loaded, and write the
number that you see. If the panel does show this number, correct `first` or `count` in
the definition.
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
      slap: 0
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
