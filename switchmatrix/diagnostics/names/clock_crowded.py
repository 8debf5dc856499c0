"""The page of `clock-crowded`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

CLOCK_CROWDED = Name(
    name="clock-crowded",
    severity=Severity.WARNING,
    page="""\
A device wants MIDI clock, and on its port a single message to some device takes longer than
half of the time between two clocks. The clock has to wait for it, and the device hears the
tempo jump: its delay or tremolo stumbles at the change. Put the device with the long message
or the one with the clock on a port of its own.
""",
    wrong={
        "definitions/two-tap-echo.yaml": """\
definition: two-tap echo
programs: {count: 128, first: 1, settle: 35 ms, repeat: recalls}
controls:
  engage: {kind: switch, cc: 80, main: yes}
  mix: {kind: level, cc: 21, range: [0 %, 100 %], codes: [0, 100], stored: yes}
  time: {kind: time, cc: 22, range: [0 ms, 1270 ms], stored: yes}
clock: yes
""",
        "definitions/plain-gate.yaml": """\
definition: plain gate
controls:
  threshold: {kind: level, range: [-70 dB, -20 dB], sysex: {body: [0x7D,
      0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0,
      0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0,
      0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0,
      0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0,
      0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0,
      value]}}
""",
    },
    right={
        "definitions/plain-gate.yaml": """\
definition: plain gate
controls:
  threshold: {kind: level, range: [-70 dB, -20 dB], sysex: {body: [0x7D,
      0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0,
      0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0,
      0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0,
      0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0,
      0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0,
      value]}}
""",
    },
)
