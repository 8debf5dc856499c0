"""The page of `not-stored`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

NOT_STORED = Name(
    name="not-stored",
    severity=Severity.ERROR,
    page="""\
A line leaves a control as the patch has it, but recalling a patch does not touch that
control. It would stay wherever the scene before had put it, so the same scene would
sound different from night to night. Say its value instead. If the box does bring the
control back with every patch, its definition is wrong: look in the maker's manual, or
try it on the box, and write `stored: yes` there.
""",
    wrong={
        "lantern.yaml": """\
song: Lantern
tempo: 120
scenes:
  verse: {at: bar 1, gate: tight}
  chorus: {at: bar 9, like: verse, echo: {patch: cliff, engage: as stored}}
""",
    },
    right={
        "lantern.yaml": """\
song: Lantern
tempo: 120
scenes:
  verse: {at: bar 1, gate: tight}
  chorus: {at: bar 9, like: verse, echo: {patch: cliff, engage: on}}
""",
    },
)
