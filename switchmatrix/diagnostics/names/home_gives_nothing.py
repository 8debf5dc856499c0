"""The page of `home-gives-nothing`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

HOME_GIVES_NOTHING = Name(
    name="home-gives-nothing",
    severity=Severity.ERROR,
    page="""\
A line asks for a control's value at home, but home says nothing about that control, and
no patch that home chooses is known to hold it. There is no value to go back to. Give
the control one under `home` in the rig's file, or list what the home patch holds under
that patch's `stores`. Or say the value in the scene itself.
""",
    wrong={
        "lantern.yaml": """\
song: Lantern
tempo: 120
scenes:
  verse: {at: bar 1, gate: tight}
  chorus: {at: bar 9, like: verse, echo: cliff, echo.mix: home}
""",
    },
    right={
        "rigs/a-rig.yaml": """\
rig: A rig
ports:
  rack: {out: rack, speed: din}
devices:
  gate-1: {port: rack, channel: 2, definition: plain-gate}
  echo:
    port: rack
    channel: 3
    definition: two-tap-echo
    patches:
      slap: {at: 4, stores: {mix: 20 %}}
      cliff: {at: 17, stores: {mix: 35 %, time: 480 ms}}
vocabulary:
  gate:
    tight: {gate-1.threshold: -38 dB}
    loose: {gate-1.threshold: -55 dB}
home: {gate: loose, echo: {engage: off, patch: slap}}
""",
        "lantern.yaml": """\
song: Lantern
tempo: 120
scenes:
  verse: {at: bar 1, gate: tight}
  chorus: {at: bar 9, like: verse, echo: cliff, echo.mix: home}
""",
    },
)
