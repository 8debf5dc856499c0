"""The page of `repeat-missing`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

REPEAT_MISSING = Name(
    name="repeat-missing",
    severity=Severity.ERROR,
    page="""\
The definition has controls that its patches store, but it does not say what the box
does when it gets the program of the patch that it is already in, or it has no programs
at all. Boxes differ: some load the patch afresh and lose your edits, some do nothing,
some flip their bypass. The tool must know, or a scene that calls the same patch again
could bring back an old sound or switch the box off. Try it: call a patch, turn a knob,
call the same patch again, and look. Then write `repeat: recalls`, `repeat: nothing`, or
`repeat: toggles` with the name of the switch that flips.
""",
    wrong={
        "definitions/two-tap-echo.yaml": """\
definition: two-tap echo
programs: {count: 128, first: 1, settle: 35 ms}
controls:
  engage: {kind: switch, cc: 80, main: yes}
  mix: {kind: level, cc: 21, range: [0 %, 100 %], codes: [0, 100], stored: yes}
  time: {kind: time, cc: 22, range: [0 ms, 1270 ms], stored: yes}
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
