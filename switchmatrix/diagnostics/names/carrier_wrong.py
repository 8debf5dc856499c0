"""The page of `carrier-wrong`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

CARRIER_WRONG = Name(
    name="carrier-wrong",
    severity=Severity.ERROR,
    page="""\
A control does not say how its setting travels to the box, or says it in two ways. The
tool needs exactly one: `cc: 80` for a control change, or `program: yes` for a program
change. Without it nothing could be sent, and the control would stay where the last
person left it. Look up the control in the MIDI chart of the box's manual, and write the
number.
""",
    wrong={
        "definitions/plain-gate.yaml": """\
definition: plain gate
controls:
  threshold: {kind: level, range: [-70 dB, -20 dB], codes: [0, 100]}
""",
    },
    right={
        "definitions/plain-gate.yaml": """\
definition: plain gate
controls:
  threshold: {kind: level, cc: 20, range: [-70 dB, -20 dB], codes: [0, 100]}
""",
    },
)
