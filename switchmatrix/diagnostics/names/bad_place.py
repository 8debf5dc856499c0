"""The page of `bad-place`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

BAD_PLACE = Name(
    name="bad-place",
    severity=Severity.ERROR,
    page="""\
A place in the song cannot be read, or there is no such place: bar 0, the fifth beat of
a 4/4 bar, a time code frame that does not exist or that lies before the song's start.
The scene would come at the wrong moment or not at all. Write `bar 17`, `bar 17 beat 3`,
minutes and seconds such as `2:05.5`, or time code such as `1:02:05:12`. Time code needs
the song's `start` and `rate`, which say where bar 1 stands. A tempo changes at a beat of
a bar, a meter at the first beat of one.
""",
    wrong={
        "lantern.yaml": """\
song: Lantern
tempo: 120
scenes:
  verse: {at: bar 1, gate: tight}
  chorus: {at: bar 8 beat 5, like: verse, echo: cliff}
""",
    },
    right={
        "lantern.yaml": """\
song: Lantern
tempo: 120
scenes:
  verse: {at: bar 1, gate: tight}
  chorus: {at: bar 9, like: verse, echo: cliff}
""",
    },
)
