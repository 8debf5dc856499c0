"""Songs and setlists: scenes, places, tempo, instruments."""

from __future__ import annotations

from tests.checks.nearby import SONG, Files, Near, but, legs, rig, scenes, song

ECHOED = "echo: {engage: on, time: 1/8}"


def instruments(setlist: str, retune: int, *songs: str, second: str = "") -> Files:
    """A baritone that takes `retune` songs to be put in another tuning; songs by id and what they say."""
    files = rig(
        "", "", f"instruments: {{baritone: {{tuning: B standard, retune: {retune}}}{second}}}\n"
    ) | legs(setlist)
    for one in songs:
        id, _, keys = one.partition(": ")
        files[f"{id}.yaml"] = (
            f"song: {id.title()}\n{keys}\ntempo: 120\nscenes: {{low: {{at: bar 1, gate: tight}}}}\n"
        )
    return files


NEARS = (
    Near(
        "like-circle",
        scenes("verse: {like: lull}", "lull: {like: verse, gate: tight}"),
        {
            "one way": scenes("verse: {like: lull, echo: on}", "lull: {gate: tight}"),
            "two like one": scenes(
                "verse: {like: lull, echo: on}", "chorus: {like: lull, gate: loose}", "lull: {gate: tight}"
            ),
            "one like two that are like one": scenes(
                "a: {gate: tight}",
                "b: {like: a, echo: on}",
                "c: {like: a, echo: cliff}",
                "d: {like: [b, c], gate: loose}",
            ),
            "a chain": scenes(
                "a: {gate: tight}",
                "b: {like: a, echo: on}",
                "c: {like: b, echo: slap}",
                "d: {like: c, gate: loose}",
            ),
            "a rig like one that is like none": {
                "rigs/b-rig.yaml": "rig: B rig\nlike: a-rig\n",
                "rigs/c-rig.yaml": "rig: C rig\nlike: b-rig\n",
            }
            | legs("lantern", "[c-rig]"),
        },
    ),
    Near(
        "like-order",
        scenes("a: {gate: tight}", "b: {like: a, echo: cliff}", "c: {like: [b, a], gate: loose}"),
        {
            "the parent first": scenes(
                "a: {gate: tight}", "b: {like: a, echo: cliff}", "c: {like: [a, b], gate: loose}"
            ),
            "the child alone": scenes(
                "a: {gate: tight}", "b: {like: a, echo: cliff}", "c: {like: b, gate: loose}"
            ),
            "two strangers": scenes(
                "a: {gate: tight}", "b: {echo: cliff}", "c: {like: [b, a], echo.time: 100 ms}"
            ),
            "two of one parent": scenes(
                "a: {gate: tight}",
                "b: {like: a, echo: cliff}",
                "c: {like: a, echo: slap}",
                "d: {like: [c, b], gate: loose}",
            ),
            "the same the other way about": scenes(
                "a: {like: b, echo: cliff}", "b: {gate: tight}", "c: {like: [b, a], gate: loose}"
            ),
        },
    ),
    Near(
        "bad-place",
        but((SONG, "at: bar 9", "at: bar 0")),
        {
            "the last beat": but((SONG, "at: bar 9", "at: bar 9 beat 4")),
            "the first beat": but((SONG, "at: bar 9", "at: bar 9 beat 1")),
            "minutes and seconds": but((SONG, "at: bar 9", 'at: "0:16.500"')),
            "bar 2": but((SONG, "at: bar 9", "at: bar 2")),
            "time code": song(
                'tempo: 120\nstart: "1:00:00:00"\nrate: 25\n'
                'scenes: {verse: {at: "1:00:00:24", gate: tight}}\n'
            ),
            "the fifth beat of five": song(
                "tempo: 120\nmeter: 5/4\nscenes: {verse: {at: bar 2 beat 5, gate: tight}}\n"
            ),
        },
    ),
    Near(
        "places-out-of-order",
        but((SONG, "at: bar 9", "at: [bar 17, bar 9]")),
        {
            "in order": but((SONG, "at: bar 9", "at: [bar 9, bar 17]")),
            "a beat apart": scenes(
                "verse: {at: bar 1, gate: tight}", "chorus: {at: bar 1 beat 2, gate: loose}"
            ),
            "the later scene first in the file": scenes(
                "chorus: {at: bar 9, gate: loose}", "verse: {at: bar 1, gate: tight}"
            ),
            "one between two of another": scenes(
                "verse: {at: [bar 1, bar 17], gate: tight}", "chorus: {at: bar 9, gate: loose}"
            ),
            "a clock's place just after a bar's": scenes(
                "verse: {at: bar 1, gate: tight}", 'chorus: {at: "0:00.500", gate: loose}'
            ),
        },
    ),
    Near(
        "order-disagrees",
        song(
            "tempo: 120\norder: [chorus, verse]\nscenes:\n"
            "  verse: {at: bar 1, gate: tight}\n  chorus: {at: bar 9, gate: loose}\n"
        ),
        {
            "the order of the places": song(
                "tempo: 120\norder: [verse, chorus]\nscenes:\n"
                "  verse: {at: bar 1, gate: tight}\n  chorus: {at: bar 9, gate: loose}\n"
            ),
            "twice, as it is played": song(
                "tempo: 120\norder: [verse, chorus, verse]\n"
                "scenes:\n  verse: {at: [bar 1, bar 17], gate: tight}\n"
                "  chorus: {at: bar 9, gate: loose}\n"
            ),
            "no places": song(
                "order: [chorus, verse, chorus]\nscenes:\n  verse: {gate: tight}\n  chorus: {gate: loose}\n"
            ),
            "no order": but((SONG, "at: bar 9", "at: bar 10")),
            "another order in the file": song(
                "tempo: 120\norder: [verse, chorus]\nscenes:\n"
                "  chorus: {at: bar 9, gate: loose}\n  verse: {at: bar 1, gate: tight}\n"
            ),
        },
    ),
    Near(
        "tempo-unsound",
        but((SONG, "tempo: 120", "tempo: 0")),
        {
            "slow": but((SONG, "tempo: 120", "tempo: 30")),
            "fast": but((SONG, "tempo: 120", "tempo: 300")),
            "a list from bar 1 on": but(
                (SONG, "tempo: 120", "tempo: [{at: bar 1, bpm: 120}, {at: bar 5, bpm: 60}]")
            ),
            "a dotted beat": but((SONG, "tempo: 120", "tempo: [{at: bar 1, bpm: 80, beat: 1/4 dotted}]")),
            "a decimal": but((SONG, "tempo: 120", "tempo: 119.5")),
            "an odd meter": but((SONG, "tempo: 120", "tempo: 120\nmeter: 7/8")),
        },
    ),
    Near(
        "tempo-beside-place",
        but((SONG, "at: bar 9,", "at: bar 9, tempo: 60,")),
        {
            "no place": song("tempo: 120\nscenes: {verse: {tempo: 60, gate: tight}}\n"),
            "in the song's list": but(
                (SONG, "tempo: 120", "tempo: [{at: bar 1, bpm: 120}, {at: bar 9, bpm: 60}]")
            ),
            "some with one": song("scenes:\n  verse: {tempo: 60, gate: tight}\n  chorus: {gate: loose}\n"),
            "in an order": song("order: [verse, verse]\nscenes: {verse: {tempo: 60, gate: tight}}\n"),
            "one like it that has a place": song(
                "tempo: 120\nscenes:\n  lull: {tempo: 60, gate: loose}\n"
                "  verse: {at: bar 1, like: lull, gate: tight}\n"
            ),
        },
    ),
    Near(
        "no-tempo",
        song(f"scenes: {{verse: {{{ECHOED}}}}}\n"),
        {
            "the song's": song(f"tempo: 120\nscenes: {{verse: {{{ECHOED}}}}}\n"),
            "the scene's": song(f"scenes: {{verse: {{tempo: 120, {ECHOED}}}}}\n"),
            "two, and a place": song(
                f"tempo: [{{at: bar 1, bpm: 120}}, {{at: bar 9, bpm: 60}}]\n"
                f"scenes: {{verse: {{at: bar 9, {ECHOED}}}}}\n"
            ),
            "milliseconds": song("scenes: {verse: {echo: {engage: on, time: 250 ms}}}\n"),
            "no time at all": song("scenes: {verse: {echo: cliff}}\n"),
        },
    ),
    Near(
        "tempo-changes-inside",
        song(
            f"tempo: [{{at: bar 1, bpm: 120}}, {{at: bar 5, bpm: 60}}]\n"
            f"scenes: {{verse: {{at: bar 1, {ECHOED}}}, chorus: {{at: bar 9, gate: loose}}}}\n"
        ),
        {
            "a scene at the change": song(
                f"tempo: [{{at: bar 1, bpm: 120}}, {{at: bar 5, bpm: 60}}]\n"
                f"scenes: {{verse: {{at: [bar 1, bar 5], {ECHOED}}}, chorus: {{at: bar 9, "
                f"gate: loose}}}}\n"
            ),
            "no note value": song(
                "tempo: [{at: bar 1, bpm: 120}, {at: bar 5, bpm: 60}]\n"
                "scenes: {verse: {at: bar 1, echo: {engage: on, time: 250 ms}}, chorus: "
                "{at: bar 9, gate: loose}}\n"
            ),
            "the change before it": song(
                f"tempo: [{{at: bar 1, bpm: 120}}, {{at: bar 5, bpm: 60}}]\n"
                f"scenes: {{chorus: {{at: bar 1, gate: loose}}, verse: {{at: bar 5, {ECHOED}}}}}\n"
            ),
            "the change at the next scene": song(
                f"tempo: [{{at: bar 1, bpm: 120}}, {{at: bar 9, bpm: 60}}]\n"
                f"scenes: {{verse: {{at: bar 1, {ECHOED}}}, chorus: {{at: bar 9, gate: loose}}}}\n"
            ),
            "no change": song(
                f"tempo: [{{at: bar 1, bpm: 120}}, {{at: bar 5, bpm: 120}}]\n"
                f"scenes: {{verse: {{at: bar 1, {ECHOED}}}, chorus: {{at: bar 9, gate: loose}}}}\n"
            ),
        },
    ),
)
