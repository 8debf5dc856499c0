"""The page of `missing-patch`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

MISSING_PATCH = Name(
    name="missing-patch",
    severity=Severity.ERROR,
    page="""\
A line calls for a patch that the device's list in the rig's file has not got. Without
its number on the front panel nothing can be sent, so the device would stay on whatever
sound it had. Most often the name is spelt in two ways: take the one that the list has.
If the sound is a new one, add it under the device's `patches` with the number that the
front panel shows. For a device that is absent from this rig the list is that of its
translation, under `vocabulary`.
""",
    wrong={
        "lantern.yaml": """\
song: Lantern
tempo: 120
scenes:
  verse: {at: bar 1, gate: tight}
  chorus: {at: bar 9, like: verse, echo: clif}
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
