"""The page of `accepted-nothing`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

ACCEPTED_NOTHING = Name(
    name="accepted-nothing",
    severity=Severity.WARNING,
    page="""\
The show accepts a warning or a hint, with a reason, and nothing of that name is found there
any more. Either it has been mended, or it has moved and is no longer looked at. An acceptance
that stays behind would one day hide something new. Take it out; if the finding still stands
elsewhere, accept it there.
""",
    wrong={
        "show.yaml": """\
show: Tidewrack
rigs: [a-rig]
accept: [{name: never-visited, where: lantern.yaml, because: kept for the encore}]
legs:
  summer: {rigs: [a-rig], setlist: [lantern]}
""",
    },
    right={
        "show.yaml": """\
show: Tidewrack
rigs: [a-rig]
legs:
  summer: {rigs: [a-rig], setlist: [lantern]}
""",
    },
)
