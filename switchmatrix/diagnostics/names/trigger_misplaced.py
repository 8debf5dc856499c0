"""The page of `trigger-misplaced`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

TRIGGER_MISPLACED = Name(
    name="trigger-misplaced",
    severity=Severity.ERROR,
    page="""\
A trigger is something that happens once, such as wiping an echo's repeats. It goes off
when the band reaches the scene that names it, and only then. Home, an instrument and a
song's base only lie under the scenes and are never reached themselves, so a trigger
written there would never go off. Write it in the scene where it is to happen. A scene
that is like that one does not take the trigger over: write it there too if it is wanted
again.
""",
    wrong={
        "definitions/two-tap-echo.yaml": """\
definition: two-tap echo
programs: {count: 128, first: 1, settle: 35 ms, repeat: recalls}
controls:
  engage: {kind: switch, cc: 80, main: yes}
  mix: {kind: level, cc: 21, range: [0 %, 100 %], codes: [0, 100], stored: yes}
  time: {kind: time, cc: 22, range: [0 ms, 1270 ms], stored: yes}
  wipe: {kind: trigger, cc: 23}
""",
        "lantern.yaml": """\
song: Lantern
tempo: 120
base: {echo.wipe: now}
scenes:
  verse: {at: bar 1, gate: tight}
  chorus: {at: bar 9, like: verse, echo: cliff}
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
  wipe: {kind: trigger, cc: 23}
""",
        "lantern.yaml": """\
song: Lantern
tempo: 120
scenes:
  verse: {at: bar 1, gate: tight}
  chorus: {at: bar 9, like: verse, echo: cliff, echo.wipe: now}
""",
    },
)
