"""The page of `set-while-bypassed`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

SET_WHILE_BYPASSED = Name(
    name="set-while-bypassed",
    severity=Severity.WARNING,
    page="""\
A song chooses a patch or sets a control on a device that is bypassed in every scene
where the line counts. Nobody will hear it, so either the line is left over or somebody
forgot to turn the device on. Turn it on in the scene, or take the line out. A patch's
name given to the device itself, as in `echo: cliff`, turns it on as well; `echo.patch:
cliff` only chooses the patch.
""",
    wrong={
        "lantern.yaml": """\
song: Lantern
tempo: 120
scenes:
  verse: {at: bar 1, gate: tight}
  chorus: {at: bar 9, gate: loose, echo.patch: cliff}
""",
    },
    right={
        "lantern.yaml": """\
song: Lantern
tempo: 120
scenes:
  verse: {at: bar 1, gate: tight}
  chorus: {at: bar 9, gate: loose, echo: cliff}
""",
    },
)
