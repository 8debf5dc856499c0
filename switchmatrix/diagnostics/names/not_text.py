"""The page of `not-text`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

NOT_TEXT = Name(
    name="not-text",
    severity=Severity.ERROR,
    page="""\
A file holds something that is not plain text: it was saved in another encoding than
UTF-8, or a character that does not print came along with something pasted. Nothing of
the file is used, for a name that is read wrongly could call the wrong thing on stage.
Save the file as UTF-8 in your editor, or go to the line and column that the finding
names and delete the character there. In the example a page break, which does not show,
stands at the end of the remark; typing the last word of the line again is enough.
""",
    wrong={
        "lantern.yaml": """\
song: Lantern
tempo: 120
remark: band comes in late\x0c
scenes:
  verse: {at: bar 1, gate: tight}
  chorus: {at: bar 9, like: verse, echo: cliff}
""",
    },
    right={
        "lantern.yaml": """\
song: Lantern
tempo: 120
remark: band comes in late
scenes:
  verse: {at: bar 1, gate: tight}
  chorus: {at: bar 9, like: verse, echo: cliff}
""",
    },
)
