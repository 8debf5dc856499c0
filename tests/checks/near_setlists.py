"""Setlists and what is played in them: instruments, budgets, clock, scenes that are left over."""

from __future__ import annotations

from tests.checks.nearby import ECHO, GATE, RIG, SONG, Files, Near, but, legs, rig, scenes, shown, song

ECHOED = "echo: {engage: on, time: 1/8}"
EBB = "song: Ebb\ntempo: 120\nscenes: {low: {at: bar 1, gate: tight}}\n"
LONG = "kind: level, range: [-70 dB, -20 dB], sysex: {body: [0x7D, BYTESvalue]}"


def slots(number: int, speed: str = "din", clock: str = "clock: yes\n") -> Files:
    """An echo that wants MIDI clock beside a gate whose one message has so many idle bytes."""
    long = LONG.replace("BYTES", "0, " * number)
    files = but(
        (GATE, "kind: level, cc: 20, range: [-70 dB, -20 dB], codes: [0, 100]", long),
        (RIG, "speed: din", f"speed: {speed}"),
    )
    return {**files, ECHO: but((ECHO, "controls:", f"{clock}controls:"))[ECHO]}


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


NORMAL, DROPPED = "instrument: baritone", "instrument: baritone\ntuning: drop A"


def fed(pickups: str, sung: str, instrument: str = "mandola") -> Files:
    """An echo that is fed by the magnetic pickup, and an instrument with these pickups."""
    files = but((RIG, "definition: two-tap-echo", "definition: two-tap-echo\n    pickup: magnetic"))
    files[RIG] += f"instruments: {{mandola: {{pickups: [{pickups}]}}, guitar: {{pickups: [magnetic]}}}}\n"
    return files | song(f"instrument: {instrument}\ntempo: 120\nscenes: {{verse: {{at: bar 1, {sung}}}}}\n")


def standing(lines: str, setlist: str) -> Files:
    """A rig with standing scenes, and a setlist."""
    return rig("", "", f"standing: {{{lines}}}\n") | legs(setlist)


NEARS = (
    Near(
        "over-budget",
        but((SONG, "tempo: 120", "tempo: 120\nbudget: 30 ms")),
        {
            "enough": but((SONG, "tempo: 120", "tempo: 120\nbudget: 41 ms")),
            "the scene has more": but(
                (SONG, "tempo: 120", "tempo: 120\nbudget: 30 ms"),
                (SONG, "at: bar 9,", "at: bar 9, budget: 60 ms,"),
            ),
            "the first visit": but((SONG, "at: bar 1,", "at: bar 1, budget: 1 ms,")),
            "the show has more": shown(
                legs("lantern", rest="budget: 60 ms\n"),
                scenes("verse: {at: bar 1, gate: tight}", "chorus: {at: bar 9, echo: cliff}"),
            ),
            "nothing recalls": shown(
                scenes(
                    "verse: {at: bar 1, gate: tight}",
                    "chorus: {at: bar 9, gate: loose}",
                    keys="tempo: 120\nbudget: 1 ms\n",
                )
            ),
        },
    ),
    Near(
        "clock-crowded",
        slots(60),
        {
            "a shorter message": slots(4),
            "a port that is no bottleneck": slots(60, "usb"),
            "no clock": slots(60, clock=""),
            "a slower song": shown(slots(25), song("tempo: 60\nscenes: {verse: {at: bar 1, gate: tight}}\n")),
            "a song without a tempo": shown(slots(60), song("scenes: {verse: {gate: tight}}\n")),
        },
    ),
    Near(
        "pickup-missing",
        fed("piezo", "echo: cliff"),
        {
            "the instrument has it": fed("piezo, magnetic", "echo: cliff"),
            "it stays off": fed("piezo", "gate: tight"),
            "another instrument": fed("piezo", "echo: cliff", "guitar"),
            "the scene's own instrument": fed("piezo", "echo: cliff, instrument: guitar"),
            "a song without an instrument": shown(
                fed("piezo", "echo: cliff"), scenes("verse: {at: bar 1, echo: cliff}")
            ),
        },
    ),
    Near(
        "retune-too-close",
        instruments("lantern, harbour", 1, f"lantern: {NORMAL}", f"harbour: {DROPPED}"),
        {
            "one song between": instruments(
                "lantern, ebb, harbour", 1, f"lantern: {NORMAL}", "ebb: budget: 1 s", f"harbour: {DROPPED}"
            ),
            "no time needed": instruments("lantern, harbour", 0, f"lantern: {NORMAL}", f"harbour: {DROPPED}"),
            "one tuning": instruments("lantern, harbour", 1, f"lantern: {NORMAL}", f"harbour: {NORMAL}"),
            "the tuning said twice": instruments(
                "lantern, harbour",
                1,
                f"lantern: {NORMAL}",
                "harbour: instrument: baritone\ntuning: B standard",
            ),
            "a second instrument": instruments(
                "lantern, harbour",
                1,
                f"lantern: {NORMAL}",
                "harbour: instrument: spare\ntuning: drop A",
                second=", spare: {retune: 1}",
            ),
            "both in the other tuning": instruments(
                "lantern, harbour", 1, f"lantern: {DROPPED}", f"harbour: {DROPPED}"
            ),
        },
    ),
    Near(
        "repeats-scene",
        scenes("verse: {at: bar 1, gate: tight}", "chorus: {at: bar 9, gate: tight}"),
        {
            "like it": scenes("verse: {at: bar 1, gate: tight}", "chorus: {at: bar 9, like: verse}"),
            "the same scene twice": scenes("verse: {at: [bar 1, bar 9], gate: tight}"),
            "one control apart": scenes(
                "verse: {at: bar 1, gate: tight}", "chorus: {at: bar 9, gate: tight, echo: on}"
            ),
            "one step apart": scenes(
                "verse: {at: bar 1, gate-1.threshold: -38 dB}",
                "chorus: {at: bar 9, gate-1.threshold: -38.5 dB}",
            ),
            "apart on one of two tempos": song(
                f"tempo: [{{at: bar 1, bpm: 120}}, {{at: bar 9, bpm: 60}}]\n"
                f"scenes: {{verse: {{at: bar 1, {ECHOED}}}, chorus: {{at: bar 9, {ECHOED}}}}}\n"
            ),
            "two songs": shown({"ebb.yaml": EBB}, legs("lantern, ebb")),
        },
    ),
    Near(
        "never-visited",
        scenes("verse: {at: bar 1, gate: tight}", "lull: {gate: loose}"),
        {
            "a place": scenes("verse: {at: bar 1, gate: tight}", "lull: {at: bar 9, gate: loose}"),
            "another is like it": scenes("verse: {at: bar 1, like: lull, echo: on}", "lull: {gate: loose}"),
            "no places at all": scenes("verse: {gate: tight}", "lull: {gate: loose}"),
            "in the order": song(
                "order: [verse, lull]\nscenes: {verse: {gate: tight}, lull: {gate: loose}}\n"
            ),
            "a standing scene": standing("silence: {echo: off}", "lantern"),
        },
    ),
    Near(
        "song-unused",
        {"ebb.yaml": EBB},
        {
            "in the setlist": shown({"ebb.yaml": EBB}, legs("lantern, ebb")),
            "first in it": shown({"ebb.yaml": EBB}, legs("ebb, lantern")),
            "twice in it": legs("lantern, lantern"),
            "in another leg": {
                "ebb.yaml": EBB,
                "show.yaml": (
                    "show: T\nrigs: [a-rig]\nlegs:\n  summer: {rigs: [a-rig], setlist: [lantern]}\n"
                    "  winter: {rigs: [a-rig], setlist: [ebb]}\n"
                ),
            },
            "a song in a folder of its own": {"resting/ebb.yaml": EBB},
        },
    ),
    Near(
        "standing-missing",
        standing("silence: {echo: off}", "lantern, {standing: sillence}"),
        {
            "as it is written": standing("silence: {echo: off}", "lantern, {standing: silence}"),
            "two of them": standing(
                "silence: {echo: off}, tune: {like: silence, gate: tight}",
                "{standing: tune}, lantern, {standing: silence}",
            ),
            "one like another": standing(
                "silence: {echo: off}, interval: silence", "lantern, {standing: interval}"
            ),
            "none called for": standing("silence: {echo: off}", "lantern"),
            "inherited by a second rig": shown(
                standing("silence: {echo: off}", "lantern"),
                {"rigs/b-rig.yaml": "rig: B rig\nlike: a-rig\n"},
                legs("lantern, {standing: silence}", "[a-rig, b-rig]"),
            ),
        },
    ),
    Near(
        "transliterated",
        but((SONG, "song: Lantern", "song: Laŋtern")),
        {
            "accents of the west": but((SONG, "song: Lantern", "song: Länterne à São Tomé")),
            "a remark": but((SONG, "song: Lantern", "song: Lantern\nremark: Laŋtern")),
            "a definition's title": but((ECHO, "definition: two-tap echo", "definition: two-tap eĉo")),
            "a word of the vocabulary": but(
                (RIG, "loose: {gate-1", "łoose: {gate-1"), (RIG, "gate: loose", "gate: łoose")
            ),
            "a song that is not played": {"ebb.yaml": EBB.replace("Ebb", "Eƀƀ")},
        },
        {"a song that is not played": ("song-unused",)},
    ),
)
