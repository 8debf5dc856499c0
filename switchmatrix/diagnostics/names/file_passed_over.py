"""The page of `file-passed-over`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

FILE_PASSED_OVER = Name(
    name="file-passed-over",
    severity=Severity.HINT,
    page="""\
A file in the show's folder has a name that ends in `.yml`; the show's files all end in `.yaml`.
The file is passed over: nothing in it is read, checked or sent. That does no harm if it is an old
copy that you keep. It does harm if it holds the change you made this afternoon and expect to hear
tonight. Rename it to end in `.yaml`, or move it out of the show's folder.
""",
    wrong={
        "definitions/spare-gate.yml": """\
definition: spare gate
controls:
  threshold: {kind: level, cc: 20, range: [-70 dB, -20 dB], codes: [0, 100]}
""",
    },
    right={
        "definitions/spare-gate.yaml": """\
definition: spare gate
controls:
  threshold: {kind: level, cc: 20, range: [-70 dB, -20 dB], codes: [0, 100]}
""",
    },
)
