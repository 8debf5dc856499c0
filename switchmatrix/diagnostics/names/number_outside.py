"""The page of `number-outside`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

NUMBER_OUTSIDE = Name(
    name="number-outside",
    severity=Severity.ERROR,
    page="""\
A whole number is larger or smaller than it can be. MIDI sets most of these bounds:
channels go from 1 to 16, CC numbers and the codes that they carry from 0 to 127, and a
bank holds at most 128 programs. A number past them cannot be sent, and cutting it short
would reach another channel or another setting on stage. A common slip is to count 128
codes and write 128 for the last one, which is 127. Write a number within the bounds
that the finding gives.
""",
    wrong={
        "definitions/plain-gate.yaml": """\
definition: plain gate
controls:
  threshold: {kind: level, cc: 20, range: [-70 dB, -20 dB], codes: [0, 128]}
""",
    },
    right={
        "definitions/plain-gate.yaml": """\
definition: plain gate
controls:
  threshold: {kind: level, cc: 20, range: [-70 dB, -20 dB], codes: [0, 127]}
""",
    },
)
