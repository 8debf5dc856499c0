"""The page of `missing-key`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

MISSING_KEY = Name(
    name="missing-key",
    severity=Severity.ERROR,
    page="""\
A block lacks a line that it cannot do without: a device without a channel, a port
without its speed, a control without its kind. There is no safe guess for such things: a
device on a guessed channel would stay silent, or another box would answer for it. The
finding names the block and what it lacks. Look it up on the box or in its manual, and
write it in.
""",
    wrong={
        "definitions/plain-gate.yaml": """\
definition: plain gate
controls:
  threshold: {cc: 20, range: [-70 dB, -20 dB], codes: [0, 100]}
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
