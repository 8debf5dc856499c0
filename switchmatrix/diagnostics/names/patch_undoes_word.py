"""The page of `patch-undoes-word`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

PATCH_UNDOES_WORD = Name(
    name="patch-undoes-word",
    severity=Severity.WARNING,
    page="""\
A scene chooses a patch, and recalling it overwrites a setting that a word further up
had made. The song still reads as if the word held, but from this scene on it does not.
If the word is still meant, say it again in the same block: it is then sent after the
patch. If the patch is meant to have its own way, take the word out of what lies below
this scene.
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
  distance:
    near: {echo.mix: 20 %}
    far: {echo.mix: 60 %}
home: {gate: loose, echo: {engage: off, patch: slap}}
""",
        "lantern.yaml": """\
song: Lantern
tempo: 120
base: {distance: far}
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
    patches:
      slap: 4
      cliff: {at: 17, stores: {mix: 35 %, time: 480 ms}}
vocabulary:
  gate:
    tight: {gate-1.threshold: -38 dB}
    loose: {gate-1.threshold: -55 dB}
  distance:
    near: {echo.mix: 20 %}
    far: {echo.mix: 60 %}
home: {gate: loose, echo: {engage: off, patch: slap}}
""",
        "lantern.yaml": """\
song: Lantern
tempo: 120
base: {distance: far}
scenes:
  verse: {at: bar 1, gate: tight}
  chorus: {at: bar 9, like: verse, echo: cliff, distance: far}
""",
    },
)
