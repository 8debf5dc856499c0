"""The page of `scale-wrong`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

SCALE_WRONG = Name(
    name="scale-wrong",
    severity=Severity.ERROR,
    page="""\
A definition does not say clearly which code stands for which value. The range may run
from high to low or have two units, two words may share one code, both ends may have the
same code, or a control has both a `range` and `points`, or neither. Every setting of
that control would be worked out from this table, so a slip here sends wrong values in
every song. Take the values and the codes from the table of the box's manual, and write
the lower end first. If the codes run the other way, turn the codes round and leave the
range: `range: [-70 dB, -20 dB], codes: [100, 0]`.
""",
    wrong={
        "definitions/plain-gate.yaml": """\
definition: plain gate
controls:
  threshold: {kind: level, cc: 20, range: [-20 dB, -70 dB], codes: [0, 100]}
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
