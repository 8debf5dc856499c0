"""The page of `like-order`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

LIKE_ORDER = Name(
    name="like-order",
    severity=Severity.WARNING,
    page="""\
A scene is like two others, and the one named first is itself like the second. It looks
as if the second were laid over the first, since it comes later in the list. It is not:
a scene always comes after the ones that it is like, so the lines of the first still
win. Leave the second name out, as the first brings it anyway. If something of the
second is to win, write that line in the scene itself.
""",
    wrong={
        "lantern.yaml": """\
song: Lantern
tempo: 120
scenes:
  verse: {at: bar 1, gate: tight}
  chorus: {at: bar 9, like: verse, echo: cliff}
  bridge: {at: bar 17, like: [chorus, verse], gate: loose}
""",
    },
    right={
        "lantern.yaml": """\
song: Lantern
tempo: 120
scenes:
  verse: {at: bar 1, gate: tight}
  chorus: {at: bar 9, like: verse, echo: cliff}
  bridge: {at: bar 17, like: chorus, gate: loose}
""",
    },
)
