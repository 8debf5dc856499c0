"""The page of `order-disagrees`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

ORDER_DISAGREES = Name(
    name="order-disagrees",
    severity=Severity.ERROR,
    page="""\
A song says twice in which order its scenes come: by their places and by an `order`, and
the two do not agree. One of them is out of date, and stepping through the song would
bring the wrong scene. The places decide, so look whether they are right and then take
`order` out. It is meant for songs whose scenes have no places.
""",
    wrong={
        "lantern.yaml": """\
song: Lantern
tempo: 120
order: [verse, chorus, verse]
scenes:
  verse: {at: bar 1, gate: tight}
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
