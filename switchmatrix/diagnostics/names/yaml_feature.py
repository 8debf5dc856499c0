"""The page of `yaml-feature`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

YAML_FEATURE = Name(
    name="yaml-feature",
    severity=Severity.ERROR,
    page="""\
The file uses a trick of the file format that a show does without: a mark such as
`&quiet` or `*quiet`, a `<<` line, a `!` tag, or a second document after `---`. With
such marks a line written in one place holds in others too, so a change made in a hurry
at line check could reach scenes that you did not mean to touch. To build one scene on
another write `like: verse`; the tool then knows which scene each setting came from and
can tell you. To get the same settings in many songs make a word for them in the rig's
vocabulary. Take the mark away, as in the example.
""",
    wrong={
        "lantern.yaml": """\
song: Lantern
tempo: 120
scenes:
  verse: &quiet {at: bar 1, gate: tight}
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
