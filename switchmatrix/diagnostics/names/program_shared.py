"""The page of `program-shared`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

PROGRAM_SHARED = Name(
    name="program-shared",
    severity=Severity.ERROR,
    page="""\
A control of this device travels as a program change, and one of its values uses the
number of a patch. The same message then means two things: setting the control would
load the patch, and calling the patch would move the control. Patches are written as the
front panel numbers them and controls as the program number on the wire, so on a panel
that counts from 1, patch 4 is program 3. Store the patch in another place on the box
and write its new number, or correct the control's codes from the box's MIDI chart. In
the example `dark` had the number of the patch `slap`.
""",
    wrong={
        "definitions/two-tap-echo.yaml": """\
definition: two-tap echo
programs: {count: 128, first: 1, settle: 35 ms, repeat: recalls}
controls:
  engage: {kind: switch, cc: 80, main: yes}
  mix: {kind: level, cc: 21, range: [0 %, 100 %], codes: [0, 100], stored: yes}
  voice: {kind: choice, program: yes, values: {dark: 3, bright: 101}, stored: yes}
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
  voice: {kind: choice, program: yes, values: {dark: 100, bright: 101}, stored: yes}
  time: {kind: time, cc: 22, range: [0 ms, 1270 ms], stored: yes}
""",
    },
)
