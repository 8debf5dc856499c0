"""The page of `too-large`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

TOO_LARGE = Name(
    name="too-large",
    severity=Severity.ERROR,
    page="""\
A file is larger than 1024 KiB, the show has more than 4000 files, or brackets or
indents are nested deeper than 24. No show comes near these bounds, so it is nearly
always a slip: a recording or a backup dropped into the folder, or a key held down too
long. The tool stops reading there, and nothing is compiled, for what comes after would
be missing on stage. Go to the place that the finding names, and delete the extra
brackets or move the stray file out of the folder. A file that is truly that long can be
split: a song has a file of its own, and so has each rig.
""",
    wrong={
        "lantern.yaml": """\
song: Lantern
tempo: 120
remark: [[[[[[[[[[[[[[[[[[[[[[[[[band comes in late]]]]]]]]]]]]]]]]]]]]]]]]]
scenes:
  verse: {at: bar 1, gate: tight}
  chorus: {at: bar 9, like: verse, echo: cliff}
""",
    },
    right={
        "lantern.yaml": """\
song: Lantern
tempo: 120
remark: band comes in late
scenes:
  verse: {at: bar 1, gate: tight}
  chorus: {at: bar 9, like: verse, echo: cliff}
""",
    },
)
