"""The page of `song-unused`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

SONG_UNUSED = Name(
    name="song-unused",
    severity=Severity.HINT,
    page="""\
There is a file for this song, but no leg has it in its setlist. Its scenes are not
worked out, and a mistake in them will not be found until it is played. That is no harm
for a song that is resting. If it is to be played, add its file's name, without `.yaml`,
to a `setlist` in show.yaml.
""",
    wrong={
        "salt-stairs.yaml": """\
song: Salt Stairs
scenes:
  all: {gate: tight}
""",
    },
    right={
        "salt-stairs.yaml": """\
song: Salt Stairs
scenes:
  all: {gate: tight}
""",
        "show.yaml": """\
show: Tidewrack
rigs: [a-rig]
legs:
  tour: {rigs: [a-rig], setlist: [lantern, salt-stairs]}
""",
    },
)
