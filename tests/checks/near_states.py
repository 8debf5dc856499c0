"""States and transitions: what is left to chance, to a patch, to a repeat; what cannot be told."""

from __future__ import annotations

from tests.checks.nearby import ECHO, RIG, Edit, Files, Near, box, but, rig, scenes, shown, song

FULL: Edit = (RIG, "slap: 4", "slap: {at: 4, stores: {mix: 20 %, time: 120 ms}}")
SILENT_REPEAT: Edit = (ECHO, "repeat: recalls", "repeat: nothing")
MODE: Edit = (
    ECHO,
    "1270 ms], stored: yes}",
    (
        "1270 ms], stored: yes}\n  mode: {kind: choice, cc: 30, values: {tape: 0, "
        "clean: 1}, stored: yes, resets: [mix]}"
    ),
)
FLIPPED = "controls: {freeze: {kind: switch, cc: 81, toggle: {press: 127, release: 0}, powers-up: off}}\n"


def flipped(
    definition: str = FLIPPED, keys: str = "channel: 4", rest: str = "", sung: str = "box.freeze: on"
) -> Files:
    """A box with a switch that can only be flipped, and a scene that flips it."""
    return shown(
        box(definition, keys, "freeze: off", rest),
        scenes("verse: {at: bar 1, gate: tight}", f"chorus: {{at: bar 9, {sung}}}"),
    )


def muted(mute: str, rest: str = "", *edits: Edit) -> Files:
    """The base show with a mute while the echo recalls."""
    return rig("", "", f"mutes: [{{while: [echo.patch], hold: {{{mute}}}}}]\n{rest}", *edits)


def held(*edits: Edit) -> Files:
    """A song whose player holds the echo's mix, with an edit of its time that another scene takes back."""
    text = (
        "tempo: 120\nhands: [echo.mix]\nscenes:\n  verse: {at: bar 1, echo: slap}\n"
        "  chorus: {at: bar 9, like: verse, echo.time: 400 ms}\n"
    )
    return shown(but(*edits), song(text))


NEARS = (
    Near(
        "mute-unsound",
        muted("echo.mix: 0 %"),
        {
            "a switch of its own": muted("echo.engage: off"),
            "another box's level": muted("gate-1.threshold: -20 dB"),
            "what the player holds in no song": muted("gate-1.threshold: -20 dB", "hands: [echo.time]\n"),
            "a level that no covered patch stores": muted(
                "echo.mix: 0 %",
                "",
                (ECHO, "codes: [0, 100], stored: yes", "codes: [0, 100]"),
                (RIG, "stores: {mix: 35 %, time", "stores: {time"),
                (RIG, HOME_ECHO := "engage: off, patch: slap", f"{HOME_ECHO}, mix: 20 %"),
            ),
            "two controls": muted("echo.engage: off, gate-1.threshold: -20 dB"),
        },
    ),
    Near(
        "toggle-unsure",
        flipped(FLIPPED.replace(", powers-up: off", "")),
        {
            "its definition says how it powers up": flipped(),
            "the device says it": flipped(
                FLIPPED.replace(", powers-up: off", ""), "channel: 4, powers-up: {freeze: off}"
            ),
            "it comes up on": flipped(FLIPPED.replace("powers-up: off", "powers-up: on")),
            "a controller on another channel": flipped(
                rest="controllers: {floor: {port: rack, channel: 5, sends: {cc: [81]}}}\n"
            ),
            "another control in the player's hands": flipped(rest="hands: [gate-1.threshold]\n"),
            "a switch that is set": flipped(
                FLIPPED.replace(
                    "toggle: {press: 127, release: 0}, powers-up: off", "codes: {on: 127, off: 0}"
                )
            ),
        },
    ),
    Near(
        "left-to-repeat",
        but(SILENT_REPEAT),
        {
            "all that is stored is listed": but(SILENT_REPEAT, FULL),
            "it recalls": but(),
            "the scenes say it": shown(
                but(
                    SILENT_REPEAT,
                    (RIG, "engage: off, patch: slap", "engage: off, patch: slap, mix: 20 %, time: 120 ms"),
                )
            ),
            "a patch that no scene calls": but(
                SILENT_REPEAT, FULL, (RIG, "cliff: {at", "spare: 99\n      cliff: {at")
            ),
            "it flips a switch, and all is listed": but(
                (ECHO, "repeat: recalls", "repeat: toggles engage"), FULL
            ),
        },
    ),
    Near(
        "left-to-reset",
        shown(
            but(MODE),
            scenes(
                "verse: {at: bar 1, gate: tight}",
                "chorus: {at: bar 9, echo: {engage: on, patch: slap, mode: clean}}",
            ),
        ),
        {
            "the patch says it": shown(
                but(MODE, FULL),
                scenes(
                    "verse: {at: bar 1, gate: tight}",
                    "chorus: {at: bar 9, echo: {engage: on, patch: slap, mode: clean}}",
                ),
            ),
            "the scene says it": shown(
                but(MODE),
                scenes(
                    "verse: {at: bar 1, gate: tight}",
                    "chorus: {at: bar 9, echo: {engage: on, patch: slap, mode: clean, mix: 20 %}}",
                ),
            ),
            "the choice is left to the patch": shown(
                but(MODE), scenes("verse: {at: bar 1, gate: tight}", "chorus: {at: bar 9, echo: slap}")
            ),
            "it resets nothing": shown(
                but((MODE[0], MODE[1], MODE[2].replace(", resets: [mix]", ""))),
                scenes(
                    "verse: {at: bar 1, gate: tight}",
                    "chorus: {at: bar 9, echo: {engage: on, patch: slap, mode: clean}}",
                ),
            ),
            "a patch that lists it": shown(
                but(MODE),
                scenes(
                    "verse: {at: bar 1, gate: tight}",
                    "chorus: {at: bar 9, echo: {engage: on, patch: cliff, mode: clean}}",
                ),
            ),
        },
    ),
    Near(
        "recall-over-hands",
        held(),
        {
            "the edit is sent back by itself": held(FULL),
            "the edited one alone is listed": held((RIG, "slap: 4", "slap: {at: 4, stores: {time: 120 ms}}")),
            "no edit": shown(
                song(
                    "tempo: 120\nhands: [echo.mix]\nscenes:\n  verse: {at: bar 1, echo: slap}\n"
                    "  chorus: {at: bar 9, echo: cliff}\n"
                )
            ),
            "nothing in the player's hands": scenes(
                "verse: {at: bar 1, echo: slap}", "chorus: {at: bar 9, like: verse, echo.time: 400 ms}"
            ),
            "held on another box": song(
                "hands: [gate-1]\nscenes:\n  verse: {echo: slap}\n"
                "  chorus: {like: verse, echo.time: 400 ms}\n"
            ),
        },
    ),
)
