"""The page of `pickup-missing`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

PICKUP_MISSING = Name(
    name="pickup-missing",
    severity=Severity.WARNING,
    page="""\
A scene turns on a device that is fed by one pickup, and the instrument of that scene
has no such pickup. The device gets no signal, and the player hears nothing from it.
Look whether the scene has the right instrument. If it has, turn the device off there;
if the instrument does have that pickup, list it under the instrument in the rig's file.
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
    pickup: piezo
    patches:
      slap: 4
      cliff: {at: 17, stores: {mix: 35 %, time: 480 ms}}
instruments:
  fiddle: {pickups: [magnetic]}
  baritone: {pickups: [magnetic, piezo]}
vocabulary:
  gate:
    tight: {gate-1.threshold: -38 dB}
    loose: {gate-1.threshold: -55 dB}
home: {gate: loose, echo: {engage: off, patch: slap}}
""",
        "lantern.yaml": """\
song: Lantern
tempo: 120
instrument: fiddle
scenes:
  verse: {at: bar 1, gate: tight}
  chorus: {at: bar 9, like: verse, echo: cliff}
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
    pickup: piezo
    patches:
      slap: 4
      cliff: {at: 17, stores: {mix: 35 %, time: 480 ms}}
instruments:
  fiddle: {pickups: [magnetic]}
  baritone: {pickups: [magnetic, piezo]}
vocabulary:
  gate:
    tight: {gate-1.threshold: -38 dB}
    loose: {gate-1.threshold: -55 dB}
home: {gate: loose, echo: {engage: off, patch: slap}}
""",
        "lantern.yaml": """\
song: Lantern
tempo: 120
instrument: fiddle
scenes:
  verse: {at: bar 1, gate: tight}
  chorus: {at: bar 9, like: verse, instrument: baritone, echo: cliff}
""",
    },
)
