"""The page of `template-wrong`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

TEMPLATE_WRONG = Name(
    name="template-wrong",
    severity=Severity.ERROR,
    page="""\
A control's system exclusive template cannot be sent as it stands: it has no place for the
value, a byte that does not fit in seven bits, or a checksum without the bytes it is over.
Write the bytes that stand between F0 and F7 in the maker's manual, with `value` (or
`value-msb` and `value-lsb`) where the value goes, `id` for the device's id and `checksum`
for the checksum. A box ignores a message that is one byte off, and nobody hears why.
""",
    wrong={
        "definitions/two-tap-echo.yaml": """\
definition: two-tap echo
programs: {count: 128, first: 1, settle: 35 ms, repeat: recalls}
controls:
  engage: {kind: switch, cc: 80, main: yes}
  mix: {kind: level, sysex: {body: [0x7D, 0x12, 0x05]}, range: [0 %, 100 %], stored: yes}
  time: {kind: time, cc: 22, range: [0 ms, 1270 ms], stored: yes}
""",
    },
    right={
        "definitions/two-tap-echo.yaml": """\
definition: two-tap echo
programs: {count: 128, first: 1, settle: 35 ms, repeat: recalls}
controls:
  engage: {kind: switch, cc: 80, main: yes}
  mix: {kind: level, sysex: {body: [0x7D, 0x12, 0x05, value]}, range: [0 %, 100 %], stored: yes}
  time: {kind: time, cc: 22, range: [0 ms, 1270 ms], stored: yes}
""",
    },
)
