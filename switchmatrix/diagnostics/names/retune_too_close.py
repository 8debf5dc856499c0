"""The page of `retune-too-close`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

RETUNE_TOO_CLOSE = Name(
    name="retune-too-close",
    severity=Severity.WARNING,
    page="""\
A song wants an instrument in another tuning than a song shortly before it, and fewer songs
lie between than the instrument's `retune` says that it takes. Somebody would be tuning while
the player is counted in. Move one of the two songs, bring a second instrument in the other
tuning, or give `retune` a smaller number if it really can be done.
""",
    wrong={
        "show.yaml": """\
show: Tidewrack
rigs: [a-rig]
legs:
  summer: {rigs: [a-rig], setlist: [lantern, harbour]}
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
    patches: {slap: 4, cliff: {at: 17, stores: {mix: 35 %, time: 480 ms}}}
vocabulary:
  gate:
    tight: {gate-1.threshold: -38 dB}
    loose: {gate-1.threshold: -55 dB}
home: {gate: loose, echo: {engage: off, patch: slap}}
instruments:
  baritone: {tuning: B standard, retune: 2}
""",
        "lantern.yaml": """\
song: Lantern
instrument: baritone
tempo: 120
scenes:
  verse: {at: bar 1, gate: tight}
  chorus: {at: bar 9, like: verse, echo: cliff}
""",
        "harbour.yaml": """\
song: Harbour
instrument: baritone
tuning: drop A
tempo: 120
scenes:
  verse: {at: bar 1, gate: tight}
  chorus: {at: bar 9, like: verse, echo: cliff}
""",
    },
    right={
        "show.yaml": """\
show: Tidewrack
rigs: [a-rig]
legs:
  summer: {rigs: [a-rig], setlist: [lantern, harbour]}
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
    patches: {slap: 4, cliff: {at: 17, stores: {mix: 35 %, time: 480 ms}}}
vocabulary:
  gate:
    tight: {gate-1.threshold: -38 dB}
    loose: {gate-1.threshold: -55 dB}
home: {gate: loose, echo: {engage: off, patch: slap}}
instruments:
  baritone: {tuning: B standard, retune: 0}
""",
        "lantern.yaml": """\
song: Lantern
instrument: baritone
tempo: 120
scenes:
  verse: {at: bar 1, gate: tight}
  chorus: {at: bar 9, like: verse, echo: cliff}
""",
        "harbour.yaml": """\
song: Harbour
instrument: baritone
tuning: drop A
tempo: 120
scenes:
  verse: {at: bar 1, gate: tight}
  chorus: {at: bar 9, like: verse, echo: cliff}
""",
    },
)
