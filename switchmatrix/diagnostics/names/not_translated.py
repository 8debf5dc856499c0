"""The page of `not-translated`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

NOT_TRANSLATED = Name(
    name="not-translated",
    severity=Severity.ERROR,
    page="""\
A song names something of a device that this rig has not got, and the rig's file does
not say what stands in for it. On this rig the scene would come out with that part
missing, and nobody would know until it was heard. Under `vocabulary` in the rig's file
say which control or patch of its own takes over. If the rig goes without it on purpose,
write `nothing` there: that is listed, and no longer a fault.
""",
    wrong={
        "show.yaml": """\
show: Tidewrack
rigs: [a-rig, b-rig]
legs:
  tour: {rigs: [a-rig, b-rig], setlist: [lantern]}
""",
        "rigs/b-rig.yaml": """\
rig: B rig
ports:
  rack: {out: rack, speed: din}
devices:
  gate-1: {port: rack, channel: 2, definition: plain-gate}
  small-echo: {port: rack, channel: 3, definition: two-tap-echo, patches: {dark: 2}}
absent: {echo: two-tap-echo}
vocabulary:
  gate:
    tight: {gate-1.threshold: -38 dB}
    loose: {gate-1.threshold: -55 dB}
  echo.engage: small-echo.engage
home: {gate: loose, small-echo: {engage: off, patch: dark}}
""",
    },
    right={
        "show.yaml": """\
show: Tidewrack
rigs: [a-rig, b-rig]
legs:
  tour: {rigs: [a-rig, b-rig], setlist: [lantern]}
""",
        "rigs/b-rig.yaml": """\
rig: B rig
ports:
  rack: {out: rack, speed: din}
devices:
  gate-1: {port: rack, channel: 2, definition: plain-gate}
  small-echo: {port: rack, channel: 3, definition: two-tap-echo, patches: {dark: 2}}
absent: {echo: two-tap-echo}
vocabulary:
  gate:
    tight: {gate-1.threshold: -38 dB}
    loose: {gate-1.threshold: -55 dB}
  echo.engage: small-echo.engage
  echo.patch: {cliff: {small-echo.patch: dark}}
home: {gate: loose, small-echo: {engage: off, patch: dark}}
""",
    },
)
