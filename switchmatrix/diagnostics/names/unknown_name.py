"""The page of `unknown-name`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

UNKNOWN_NAME = Name(
    name="unknown-name",
    severity=Severity.ERROR,
    page="""\
A line names something that is not there: a device, a control, an entry of the
vocabulary, a scene, a song, a rig, a port or a definition. It may be a slip in
spelling, or the thing was renamed or taken out of the rig and this line was forgotten.
A line that reaches nothing sends nothing, and the change would simply not happen on
stage. If a known name is near, the finding names it; otherwise it lists the known ones.
Correct the name, or add what is missing. A song that names a device which only another
rig has needs a line under `absent` in this rig's file, and what stands for it under
`vocabulary`.
""",
    wrong={
        "lantern.yaml": """\
song: Lantern
tempo: 120
scenes:
  verse: {at: bar 1, gaet: tight}
  chorus: {at: bar 9, like: verse, echo: cliff}
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
