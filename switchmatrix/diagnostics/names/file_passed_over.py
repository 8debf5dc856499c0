"""The page of `file-passed-over`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

FILE_PASSED_OVER = Name(
    name="file-passed-over",
    severity=Severity.ERROR,
    page="""\
A file in the show's folder has a name that ends in `.yml`; the show's files all end in
`.yaml`. The file is passed over: nothing in it is read, checked or sent. If it holds the
change you made this afternoon and expect to hear tonight, the show would go on without
it and nobody would be told. So nothing is compiled until that is settled: rename the file
to end in `.yaml`, or move an old copy out of the show's folder.
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
