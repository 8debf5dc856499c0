"""The page of `absent-clash`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

ABSENT_CLASH = Name(
    name="absent-clash",
    severity=Severity.ERROR,
    page="""\
Two devices that this rig has not got are both passed on to one control of its own, and
in this scene they ask different things of it. It cannot do both, so one of the two
sounds would be lost without a word. Under `joint` in the rig's file write a row for the
two together: what this rig is to do when both are wanted. Or settle it for this rig
alone, with a line of its own under `changes`.
""",
    wrong={
        "rigs/a-rig.yaml": """\
rig: Small rig
ports:
  rack: {out: rack, speed: din}
devices:
  multi:
    port: rack
    channel: 3
    definition: two-tap-echo
    patches: {dry: 1, dark: 2, wide: 3, dark and wide: 4}
absent: {echo: two-tap-echo, hall: two-tap-echo}
vocabulary:
  echo.engage: multi.engage
  hall.engage: multi.engage
  echo.patch: {cliff: {multi.patch: dark}}
  hall.patch: {chapel: {multi.patch: wide}}
home: {multi: {engage: off, patch: dry}}
""",
        "lantern.yaml": """\
song: Lantern
tempo: 120
scenes:
  verse: {at: bar 1, echo: cliff}
  chorus: {at: bar 9, echo: cliff, hall: chapel}
""",
    },
    right={
        "rigs/a-rig.yaml": """\
rig: Small rig
ports:
  rack: {out: rack, speed: din}
devices:
  multi:
    port: rack
    channel: 3
    definition: two-tap-echo
    patches: {dry: 1, dark: 2, wide: 3, dark and wide: 4}
absent: {echo: two-tap-echo, hall: two-tap-echo}
vocabulary:
  echo.engage: multi.engage
  hall.engage: multi.engage
  echo.patch: {cliff: {multi.patch: dark}}
  hall.patch: {chapel: {multi.patch: wide}}
joint:
  - of: [echo.patch, hall.patch]
    rows: [[cliff, chapel, {multi.patch: dark and wide}]]
home: {multi: {engage: off, patch: dry}}
""",
        "lantern.yaml": """\
song: Lantern
tempo: 120
scenes:
  verse: {at: bar 1, echo: cliff}
  chorus: {at: bar 9, echo: cliff, hall: chapel}
""",
    },
)
