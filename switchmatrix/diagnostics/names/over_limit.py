"""The page of `over-limit`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

OVER_LIMIT = Name(
    name="over-limit",
    severity=Severity.ERROR,
    page="""\
A value goes past a limit that the rig sets for this control. Limits are there for a
reason, such as feedback that runs away or a level that hurts in the in-ears, so no
scene, leg or command gets past them. What counts is what the box will really do, so a
value just inside the limit is refused too if the nearest setting of the box lies past
it. Write a value within the limit. If the limit itself is wrong, talk to the person who
set it before you change it in the rig's file, and hear the change at low level first.
""",
    wrong={
        "lantern.yaml": """\
song: Lantern
tempo: 120
scenes:
  verse: {at: bar 1, gate: tight}
  chorus: {at: bar 9, like: verse, echo: {engage: on, patch: cliff, mix: 80 %}}
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
limits: {echo.mix: {most: 60 %}}
home: {gate: loose, echo: {engage: off, patch: slap}}
""",
    },
    right={
        "lantern.yaml": """\
song: Lantern
tempo: 120
scenes:
  verse: {at: bar 1, gate: tight}
  chorus: {at: bar 9, like: verse, echo: {engage: on, patch: cliff, mix: 60 %}}
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
limits: {echo.mix: {most: 60 %}}
home: {gate: loose, echo: {engage: off, patch: slap}}
""",
    },
)
