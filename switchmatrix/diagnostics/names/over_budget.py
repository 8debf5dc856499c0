"""The page of `over-budget`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

OVER_BUDGET = Name(
    name="over-budget",
    severity=Severity.WARNING,
    page="""\
A change takes longer than the budget that the show, the song or the scene gives it: the
time from its first byte until the last box has settled. The audience may hear the gap. See
with `switchmatrix timing` which box is the slowest and how long each is quiet while it
recalls. Change less at that place, choose a patch that the box is in already, move a slow
box to a port of its own, or give the change more time.
""",
    wrong={
        "lantern.yaml": """\
song: Lantern
tempo: 120
budget: 20 ms
scenes:
  verse: {at: bar 1, gate: tight}
  chorus: {at: bar 9, like: verse, echo: cliff}
""",
    },
    right={
        "lantern.yaml": """\
song: Lantern
tempo: 120
budget: 50 ms
scenes:
  verse: {at: bar 1, gate: tight}
  chorus: {at: bar 9, like: verse, echo: cliff}
""",
    },
)
