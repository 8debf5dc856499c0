"""The page of `value-missing`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

VALUE_MISSING = Name(
    name="value-missing",
    severity=Severity.ERROR,
    page="""\
A name stands there with nothing after it, a comma or a dash has nothing beside it, or a
file, a song or a show has nothing in it. Perhaps you meant to come back to it. An empty
place says neither "leave this alone" nor "switch this off", and the box would be left
as the last song had it. Write the value after the colon, or delete the line if there is
nothing to set. If the word belongs to a remark with a comma in it, put the whole remark
in double quotes.
""",
    wrong={
        "lantern.yaml": """\
song: Lantern
tempo: 120
scenes:
  verse:
    at: bar 1
    gate:
  chorus:
    at: bar 9
    like: verse
    echo: cliff
""",
    },
    right={
        "lantern.yaml": """\
song: Lantern
tempo: 120
scenes:
  verse:
    at: bar 1
    gate: tight
  chorus:
    at: bar 9
    like: verse
    echo: cliff
""",
    },
)
