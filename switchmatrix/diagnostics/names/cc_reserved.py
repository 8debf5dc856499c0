"""The page of `cc-reserved`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

CC_RESERVED = Name(
    name="cc-reserved",
    severity=Severity.ERROR,
    page="""\
A definition gives a control a CC number that MIDI keeps for something else. Numbers 120
to 127 are channel mode messages, such as all sound off and all notes off; 0 and 32
choose a bank; 6, 38 and 96 to 101 deal with parameter numbers. Sent as a plain control,
such a message could silence a box in the middle of a song or have the next patch called
from the wrong bank. Look in the MIDI chart of the box's manual for the control's own
number. If it is in truth one of these, it cannot be used as a control here.
""",
    wrong={
        "definitions/plain-gate.yaml": """\
definition: plain gate
controls:
  threshold: {kind: level, cc: 120, range: [-70 dB, -20 dB], codes: [0, 100]}
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
