"""The page of `standing-missing`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

STANDING_MISSING = Name(
    name="standing-missing",
    severity=Severity.ERROR,
    page="""\
A setlist calls for a standing scene, such as the one for an instrument change, and a
rig of that leg has no scene of that name. At that point of the show there would be
nothing to send. Write the scene under `standing` in that rig's file, or mend the
spelling. Every rig of the leg needs its own, since the spare may mute in another way.
""",
    wrong={
        "show.yaml": """\
show: Tidewrack
rigs: [a-rig]
legs:
  tour: {rigs: [a-rig], setlist: [lantern, {standing: changeover}]}
""",
    },
    right={
        "show.yaml": """\
show: Tidewrack
rigs: [a-rig]
legs:
  tour: {rigs: [a-rig], setlist: [lantern, {standing: changeover}]}
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
vocabulary:
  gate:
    tight: {gate-1.threshold: -38 dB}
    loose: {gate-1.threshold: -55 dB}
home: {gate: loose, echo: {engage: off, patch: slap}}
standing:
  changeover: {gate: tight}
""",
    },
)
