"""The page of `yaml-syntax`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

YAML_SYNTAX = Name(
    name="yaml-syntax",
    severity=Severity.ERROR,
    page="""\
A line is not written in a way that can be read. The usual slips are no space after a
colon, a comma or a colon inside a remark without quotes, a bracket or a quote that is
never closed, a tab, and a line that does not line up with its neighbours. The finding
shows the place; for a bracket that is never closed it shows the line that opened it. A
guess at what you meant could put the wrong sound on stage, so nothing is compiled until
the line is mended. Mend the first finding of a file first, since those after it may go
away with it. In the example the space after `gate:` is missing.
""",
    wrong={
        "lantern.yaml": """\
song: Lantern
tempo: 120
scenes:
  verse: {at: bar 1, gate:tight}
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
