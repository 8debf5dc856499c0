"""The page of `words-disagree`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

WORDS_DISAGREE = Name(
    name="words-disagree",
    severity=Severity.ERROR,
    page="""\
Two words in one block set the same control to different values. Neither stands above
the other, so there is no telling which one was meant, and guessing would give a wrong
sound half of the time. Keep only one of the two words in the block. If both are wanted,
write the control's value outright in the same block: a line that names the control
itself beats a word.
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
  picking:
    soft: {gate-1.threshold: -60 dB}
    hard: {gate-1.threshold: -38 dB}
home: {gate: loose, echo: {engage: off, patch: slap}}
""",
        "lantern.yaml": """\
song: Lantern
tempo: 120
scenes:
  verse: {at: bar 1, gate: tight, picking: soft}
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
  picking:
    soft: {gate-1.threshold: -60 dB}
    hard: {gate-1.threshold: -38 dB}
home: {gate: loose, echo: {engage: off, patch: slap}}
""",
        "lantern.yaml": """\
song: Lantern
tempo: 120
scenes:
  verse: {at: bar 1, gate: tight, picking: soft, gate-1.threshold: -60 dB}
  chorus: {at: bar 9, like: verse, echo: cliff}
""",
    },
)
