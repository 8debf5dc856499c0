"""The page of `carrier-twice`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

CARRIER_TWICE = Name(
    name="carrier-twice",
    severity=Severity.ERROR,
    page="""\
Two controls of one definition use the same number, have the same name, or both claim to
be the main switch. Each message to one of them would move the other as well, and the
tool could never be sure where either of them stands. It is most often a line that was
copied and not changed. Look up both numbers in the MIDI chart of the box's manual and
correct the wrong one. A device has one main switch, the one that `echo: on` means;
leave `main: yes` on that one only.
""",
    wrong={
        "definitions/two-tap-echo.yaml": """\
definition: two-tap echo
programs: {count: 128, first: 1, settle: 35 ms, repeat: recalls}
controls:
  engage: {kind: switch, cc: 80, main: yes}
  mix: {kind: level, cc: 21, range: [0 %, 100 %], codes: [0, 100], stored: yes}
  time: {kind: time, cc: 21, range: [0 ms, 1270 ms], stored: yes}
""",
    },
    right={
        "definitions/two-tap-echo.yaml": """\
definition: two-tap echo
programs: {count: 128, first: 1, settle: 35 ms, repeat: recalls}
controls:
  engage: {kind: switch, cc: 80, main: yes}
  mix: {kind: level, cc: 21, range: [0 %, 100 %], codes: [0, 100], stored: yes}
  time: {kind: time, cc: 22, range: [0 ms, 1270 ms], stored: yes}
""",
    },
)
