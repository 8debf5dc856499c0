"""The page of `places-out-of-order`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

PLACES_OUT_OF_ORDER = Name(
    name="places-out-of-order",
    severity=Severity.ERROR,
    page="""\
Two scenes come at the same place, or one scene's places are not written in the order in
which they come. The rig can be in only one scene at a time, and a list that runs
backwards nearly always has a wrong bar number in it. Look the bars up in the score and
put the list in order. Where two scenes share a place, move one of them or take it out.
""",
    wrong={
        "lantern.yaml": """\
song: Lantern
tempo: 120
scenes:
  verse: {at: [bar 17, bar 1], gate: tight}
  chorus: {at: bar 9, like: verse, echo: cliff}
""",
    },
    right={
        "lantern.yaml": """\
song: Lantern
tempo: 120
scenes:
  verse: {at: [bar 1, bar 17], gate: tight}
  chorus: {at: bar 9, like: verse, echo: cliff}
""",
    },
)
