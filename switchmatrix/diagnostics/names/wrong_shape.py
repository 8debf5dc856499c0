"""The page of `wrong-shape`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

WRONG_SHAPE = Name(
    name="wrong-shape",
    severity=Severity.ERROR,
    page="""\
Something is written in another form than its place asks for: one value where a list
belongs, a list where one value belongs, words where a number belongs, or a block of
lines where there should be a single word. The tool cannot tell what was meant, and a
setting that is half understood would reach the stage as a wrong sound. The finding says
which form is wanted. A list goes in square brackets, `[0, 100]`; a block of lines goes
in curly brackets, `{mix: 40 %}`, or on lines of its own that are indented.
""",
    wrong={
        "definitions/plain-gate.yaml": """\
definition: plain gate
controls:
  threshold: {kind: level, cc: 20, range: [-70 dB, -20 dB], codes: 0-100}
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
