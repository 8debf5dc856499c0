"""The page of `reset-circle`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

RESET_CIRCLE = Name(
    name="reset-circle",
    severity=Severity.ERROR,
    page="""\
A choice that reloads other controls is sent before them, so that what it reloads is set
afterwards. Here a choice reloads, itself or through another choice, the very control that
reloads it: whichever goes first, the other one spoils it. Look in the manual of the box
what really reloads what, and take one of the names out of `resets`. If the box truly does
this, let one of the two stay at one value and leave it out of the definition.
""",
    wrong={
        "definitions/two-tap-echo.yaml": """\
definition: two-tap echo
programs: {count: 128, first: 1, settle: 35 ms, repeat: recalls}
controls:
  engage: {kind: switch, cc: 80, main: yes}
  mix: {kind: level, cc: 21, range: [0 %, 100 %], codes: [0, 100], stored: yes}
  time: {kind: time, cc: 22, range: [0 ms, 1270 ms], stored: yes}
  mode: {kind: choice, cc: 30, values: {tape: 0, clean: 1}, stored: yes, resets: [tone]}
  tone: {kind: choice, cc: 31, values: {dark: 0, bright: 1}, stored: yes, resets: [mode]}
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
  mode: {kind: choice, cc: 30, values: {tape: 0, clean: 1}, stored: yes, resets: [tone]}
  tone: {kind: choice, cc: 31, values: {dark: 0, bright: 1}, stored: yes}
""",
    },
)
