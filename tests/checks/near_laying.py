"""What lines come to: words, patches and homes over one another."""

from __future__ import annotations

from tests.checks.nearby import RIG, SONG, Edit, Files, Near, but, rig, scenes, shown, song

FULL: Edit = (RIG, "slap: 4", "slap: {at: 4, stores: {mix: 20 %, time: 120 ms}}")
DISTANCE: Edit = (
    RIG,
    "vocabulary:\n",
    "vocabulary:\n  distance: {near: {echo.mix: 20 %}, far: {echo.mix: 60 %}}\n",
)
FLOOR: Edit = (
    RIG,
    "vocabulary:\n",
    "vocabulary:\n  floor: {quiet: {gate-1.threshold: -30 dB}, same: {gate-1.threshold: -38 dB}}\n",
)
HOMELESS: Edit = (RIG, "home: {gate: loose, ", "home: {")
UNDONE = "tempo: 120\nbase: {distance: far}\nscenes:\n  verse: {at: bar 1, gate: tight}\n"
SMALL = """\
rig: Small rig
ports: {rack: {out: rack, speed: din}}
devices:
  multi: {port: rack, channel: 3, definition: two-tap-echo, patches: {dry: 1, dark: 2, wide: 3, both: 4}}
absent: {echo: two-tap-echo, hall: two-tap-echo}
vocabulary: {echo.engage: multi.engage, hall.engage: multi.engage, MORE}
home: {multi: {engage: off, patch: dry}}
"""


def two_absent(vocabulary: str, sung: str = "echo: cliff, hall: chapel", rest: str = "") -> Files:
    """A rig of one box for two that it has not got."""
    return {RIG: SMALL.replace("MORE", vocabulary) + rest} | scenes(f"verse: {{at: bar 1, {sung}}}")


APART = "echo.patch: {cliff: {multi.patch: dark}}, hall.patch: {chapel: {multi.patch: wide}}"

NEARS = (
    Near(
        "undetermined",
        shown(but(HOMELESS), scenes("verse: {at: bar 1, echo: cliff}")),
        {
            "home says it outright": shown(
                but((RIG, "home: {gate: loose, ", "home: {gate-1.threshold: -55 dB, ")),
                scenes("verse: {at: bar 1, echo: cliff}"),
            ),
            "the base says it": shown(
                but(HOMELESS), song("base: {gate: loose}\nscenes: {verse: {echo: cliff}}\n")
            ),
            "every scene says it": shown(
                but(HOMELESS), song("scenes: {verse: {gate: tight}, chorus: {gate: loose}}\n")
            ),
            "the player holds it": shown(
                rig("", "", "hands: [gate-1]\n", HOMELESS), song("scenes: {verse: {echo: cliff}}\n")
            ),
            "a patch stores it, though nobody lists it": shown(
                but((RIG, "stores: {mix: 35 %, time: 480 ms}", "stores: {}")),
                scenes("verse: {at: bar 1, echo: cliff}"),
            ),
            "the instrument sets it": shown(
                rig("", "", "instruments: {mandola: {sets: {gate: loose}}}\n", HOMELESS),
                song("instrument: mandola\nscenes: {verse: {echo: cliff}}\n"),
            ),
        },
    ),
    Near(
        "set-while-bypassed",
        but((SONG, "echo: cliff", "echo.mix: 40 %")),
        {
            "turned on": but((SONG, "echo: cliff", "echo: {engage: on, mix: 40 %}")),
            "a patch by the device's name": but((SONG, "echo: cliff", "echo: cliff")),
            "turned off": but((SONG, "echo: cliff", "echo: off")),
            "a child turns it on": scenes(
                "verse: {at: bar 1, echo.mix: 40 %}", "chorus: {at: bar 9, like: verse, echo: on}"
            ),
            "turned on in the base": song("base: {echo: on}\nscenes: {verse: {echo.mix: 40 %}}\n"),
            "a device without a main switch": but((SONG, "echo: cliff", "gate-1.threshold: -33 dB")),
            "a word": shown(but(DISTANCE), scenes("verse: {at: bar 1, distance: near}")),
        },
    ),
    Near(
        "words-disagree",
        shown(but(FLOOR), scenes("verse: {at: bar 1, gate: tight, floor: quiet}")),
        {
            "they agree": shown(but(FLOOR), scenes("verse: {at: bar 1, gate: tight, floor: same}")),
            "one in the base": shown(
                but(FLOOR), song("base: {gate: loose}\nscenes: {verse: {floor: quiet}}\n")
            ),
            "an outright line decides": shown(
                but(FLOOR), scenes("verse: {at: bar 1, gate: tight, floor: quiet, gate-1.threshold: -44 dB}")
            ),
            "a child decides": shown(
                but(FLOOR),
                scenes("verse: {at: bar 1, gate: tight}", "chorus: {at: bar 9, like: verse, floor: quiet}"),
            ),
            "controls apart": shown(
                but(DISTANCE), scenes("verse: {at: bar 1, gate: tight, distance: near, echo: on}")
            ),
        },
    ),
    Near(
        "absent-clash",
        two_absent(APART),
        {
            "a joint row": two_absent(
                APART,
                rest=(
                    "joint: [{of: [echo.patch, hall.patch], rows: [[cliff, chapel, {multi.patch: both}]]}]\n"
                ),
            ),
            "one of them in a scene": two_absent(APART, "echo: cliff"),
            "both the same": two_absent(APART.replace("wide", "dark")),
            "one done without": two_absent("echo.patch: {cliff: {multi.patch: dark}}, hall.patch: nothing"),
            "a line of the rig's own decides": two_absent(
                APART, rest="changes: {lantern: {scenes: {verse: {multi.patch: both}}}}\n"
            ),
        },
    ),
    Near(
        "patch-undoes-word",
        shown(but(DISTANCE), song(UNDONE + "  chorus: {at: bar 9, like: verse, echo: cliff}\n")),
        {
            "the word once more": shown(
                but(DISTANCE),
                song(UNDONE + "  chorus: {at: bar 9, like: verse, echo: cliff, distance: far}\n"),
            ),
            "the control outright": shown(
                but(DISTANCE),
                song(
                    UNDONE
                    + "  chorus: {at: bar 9, like: verse, echo: {engage: on, patch: cliff, mix: 50 %}}\n"
                ),
            ),
            "turned on without a patch": shown(
                but(DISTANCE), song(UNDONE + "  chorus: {at: bar 9, like: verse, echo: on}\n")
            ),
            "the patch below the word": shown(
                but(DISTANCE), song("base: {echo: cliff}\nscenes: {verse: {distance: far}}\n")
            ),
            "a word of what no patch stores": shown(
                but(DISTANCE),
                scenes("verse: {at: bar 1, gate: tight}", "chorus: {at: bar 9, like: verse, echo: cliff}"),
            ),
            "an outright line undone": song(
                "base: {echo: on, echo.mix: 50 %}\nscenes: {verse: {gate: tight}, chorus: {echo: cliff}}\n"
            ),
        },
    ),
    Near(
        "home-gives-nothing",
        scenes("verse: {at: bar 1, echo: {engage: on, patch: cliff, mix: home}}"),
        {
            "the home patch lists it": shown(
                but(FULL), scenes("verse: {at: bar 1, echo: {engage: on, patch: cliff, mix: home}}")
            ),
            "home says it": shown(
                but((RIG, "engage: off, patch: slap", "engage: off, patch: slap, mix: 20 %")),
                scenes("verse: {at: bar 1, echo: {engage: on, patch: cliff, mix: home}}"),
            ),
            "a control that home sets": scenes(
                "verse: {at: bar 1, gate-1.threshold: home}", "chorus: {at: bar 9, gate: tight}"
            ),
            "the home patch itself": shown(scenes("verse: {at: bar 1, echo: {engage: on, patch: home}}")),
            "as stored": scenes("verse: {at: bar 1, echo: {engage: on, patch: cliff, mix: as stored}}"),
        },
    ),
    Near(
        "as-stored-nothing",
        shown(
            but((RIG, "echo: {engage: off, patch: slap}", "echo: {engage: off, mix: 20 %, time: 120 ms}")),
            scenes("verse: {at: bar 1, echo: {engage: on, mix: as stored}}"),
        ),
        {
            "the scene chooses a patch": shown(
                but((RIG, "echo: {engage: off, patch: slap}", "echo: {engage: off, patch: cliff}")),
                scenes("verse: {at: bar 1, echo: {engage: on, patch: slap, mix: as stored}}"),
            ),
            "home chooses one": scenes("verse: {at: bar 1, echo: {engage: on, mix: as stored}}"),
            "the base chooses one": song("base: {echo: cliff}\nscenes: {verse: {echo.mix: as stored}}\n"),
            "a parent chooses one": scenes(
                "verse: {at: bar 1, echo: cliff}",
                "chorus: {at: bar 9, like: verse, echo.mix: as stored, gate: tight}",
            ),
            "an edit is dropped": scenes(
                "verse: {at: bar 1, echo: {engage: on, patch: cliff, mix: 40 %}}",
                "chorus: {at: bar 9, like: verse, echo.mix: as stored}",
            ),
        },
    ),
)
