"""The page of `bad-name`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

BAD_NAME = Name(
    name="bad-name",
    severity=Severity.ERROR,
    page="""\
A name cannot be used for the thing that it names. A dot joins a device to its control
(`echo.mix`) and an `@` counts visits of a scene, so neither can stand inside a name.
Words that say something by themselves, such as `on`, `home`, `patch` or `tempo`, cannot
name just anything either, and an entry of the vocabulary cannot have the name of a
device. With two meanings for one word, nobody could be sure what a scene sends. Choose
another name, and change it wherever it is used.
""",
    wrong={
        "lantern.yaml": """\
song: Lantern
tempo: 120
scenes:
  verse: {at: bar 1, gate: tight}
  chorus.1: {at: bar 9, like: verse, echo: cliff}
""",
    },
    right={
        "lantern.yaml": """\
song: Lantern
tempo: 120
scenes:
  verse: {at: bar 1, gate: tight}
  chorus-1: {at: bar 9, like: verse, echo: cliff}
""",
    },
)
