"""The page of `writes-memory`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

WRITES_MEMORY = Name(
    name="writes-memory",
    severity=Severity.ERROR,
    page="""\
The control writes the memory of the box: it stores, copies or erases patches. A scene that is
entered a hundred times would write a hundred times, over sounds that somebody made, and boxes
wear out their memory. The tool refuses it wherever a scene, a word or home could send it. Do
such work at the box itself, with a backup, and take the line out.
""",
    wrong={
        "definitions/two-tap-echo.yaml": """\
definition: two-tap echo
programs: {count: 128, first: 1, settle: 35 ms, repeat: recalls}
controls:
  engage: {kind: switch, cc: 80, main: yes}
  mix: {kind: level, cc: 21, range: [0 %, 100 %], codes: [0, 100], stored: yes}
  time: {kind: time, cc: 22, range: [0 ms, 1270 ms], stored: yes}
  store: {kind: trigger, cc: 82, writes: yes}
""",
        "lantern.yaml": """\
song: Lantern
tempo: 120
scenes:
  verse: {at: bar 1, gate: tight}
  chorus: {at: bar 9, like: verse, echo: {engage: on, patch: cliff, store: now}}
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
  store: {kind: trigger, cc: 82, writes: yes}
""",
        "lantern.yaml": """\
song: Lantern
tempo: 120
scenes:
  verse: {at: bar 1, gate: tight}
  chorus: {at: bar 9, like: verse, echo: {engage: on, patch: cliff}}
""",
    },
)
