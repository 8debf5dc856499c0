"""The page of `file-unreadable`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

FILE_UNREADABLE = Name(
    name="file-unreadable",
    severity=Severity.ERROR,
    page="""\
A file or a folder of the show cannot be opened, or the file's name cannot be used as an
id. The other files call a file by its name without `.yaml`, so that name begins with a
letter or a digit and has no dot in it. A file that is left unread is a song, a device
or a whole rig that is missing on the night, so nothing is compiled until this is
mended. Give the file another name, and write that name wherever it is used. If the name
is in order, check the path and that you are allowed to open the file.
""",
    wrong={
        "definitions/echo v1.2.yaml": """\
definition: two-tap echo
programs: {count: 128, first: 1, settle: 35 ms, repeat: recalls}
controls:
  engage: {kind: switch, cc: 80, main: yes}
  mix: {kind: level, cc: 21, range: [0 %, 100 %], codes: [0, 100], stored: yes}
  time: {kind: time, cc: 22, range: [0 ms, 1270 ms], stored: yes}
""",
    },
    right={
        "definitions/echo v1-2.yaml": """\
definition: two-tap echo
programs: {count: 128, first: 1, settle: 35 ms, repeat: recalls}
controls:
  engage: {kind: switch, cc: 80, main: yes}
  mix: {kind: level, cc: 21, range: [0 %, 100 %], codes: [0, 100], stored: yes}
  time: {kind: time, cc: 22, range: [0 ms, 1270 ms], stored: yes}
""",
    },
)
