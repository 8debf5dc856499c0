"""Values of lines: words, units, ranges, limits, patches, hands, triggers."""

from __future__ import annotations

from tests.checks.nearby import ECHO, RIG, SONG, Files, Near, but, legs, rig, scenes, shown, song

CHORUS = "echo: cliff"


def chorus(lines: str) -> Files:
    """The base song with other lines in its chorus."""
    return but((SONG, CHORUS, lines))


def limited(limits: str, lines: str) -> Files:
    """The base show with limits."""
    return shown(rig("", "", f"limits: {{{limits}}}\n"), chorus(lines))


def bell(lines: str = "", home: str = "") -> Files:
    """The base show with a bell that is struck."""
    return shown(
        rig("  bells: {port: rack, channel: 4, definition: box}\n", home),
        {"definitions/box.yaml": BELL},
        chorus(lines),
    )


BELL = "definition: box\ncontrols: {bell: {kind: trigger, note: 60}}\n"
SPARE = """\
rig: B rig
ports: {spare: {out: spare, speed: din}}
devices:
  gate-1: {port: spare, channel: 2, definition: plain-gate}
  small: {port: spare, channel: 3, definition: two-tap-echo, patches: {dark: 2}}
absent: {echo: two-tap-echo}
vocabulary:
  gate: {tight: {gate-1.threshold: -38 dB}, loose: {gate-1.threshold: -55 dB}}
  echo.engage: small.engage
  echo.patch: {cliff: {small.patch: dark}}
home: {gate: loose, small: {engage: off, patch: dark}}
"""


def spare(*edits: tuple[str, str]) -> Files:
    """The base show with a spare rig, of which texts are replaced."""
    text = SPARE
    for old, new in edits:
        if text.count(old) != 1:
            raise ValueError(old)
        text = text.replace(old, new)
    return {"rigs/b-rig.yaml": text} | legs("lantern", "[a-rig, b-rig]")


NEARS = (
    Near(
        "unknown-word",
        but((SONG, "gate: tight", "gate: tihgt")),
        {
            "the other word": but((SONG, "gate: tight", "gate: loose")),
            "an entry that is a control": shown(
                rig("", "", "", (RIG, "vocabulary:\n", "vocabulary:\n  threshold: gate-1.threshold\n")),
                but((SONG, "gate: tight", "threshold: -44 dB")),
            ),
            "an entry that is nothing": shown(
                rig("", "", "", (RIG, "vocabulary:\n", "vocabulary:\n  strings: nothing\n")),
                but((SONG, "gate: tight", "gate: tight, strings: new")),
            ),
            "a word of this name in another entry": shown(
                rig(
                    "",
                    "",
                    "",
                    (RIG, "vocabulary:\n", "vocabulary:\n  echo-time: {tight: {echo.time: 100 ms}}\n"),
                ),
                chorus("echo: cliff, echo-time: tight"),
            ),
            "a word that both rigs have": spare(),
            "a word that does nothing": rig(
                "", "", "", (RIG, "tight: {gate-1.threshold: -38 dB}", "tight: nothing")
            ),
        },
    ),
    Near(
        "bad-value",
        chorus("echo: {engage: on, mix: 40}"),
        {
            "with its unit": chorus("echo: {engage: on, mix: 40 %}"),
            "without the space": chorus("echo: {engage: on, mix: 40%}"),
            "a decimal point": chorus("echo: {engage: on, mix: 40.2 %}"),
            "seconds for milliseconds": chorus("echo: {engage: on, time: 0.4 s}"),
            "a note value": chorus("echo: {engage: on, time: 1/8}"),
            "as the patch has it": chorus("echo: {engage: on, patch: cliff, mix: as stored}"),
        },
    ),
    Near(
        "out-of-range",
        chorus("echo: {engage: on, mix: 101 %}"),
        {
            "the highest": chorus("echo: {engage: on, mix: 100 %}"),
            "the lowest": chorus("echo: {engage: on, mix: 0 %}"),
            "the longest": chorus("echo: {engage: on, time: 1270 ms}"),
            "the longest in seconds": chorus("echo: {engage: on, time: 1.27 s}"),
            "the lowest threshold": chorus("gate-1.threshold: -70 dB"),
            "a note value just short enough": chorus("echo: {engage: on, time: 1/2}"),
        },
    ),
    Near(
        "over-limit",
        limited("echo.mix: {most: 60 %}", "echo: {engage: on, mix: 61 %}"),
        {
            "at the limit": limited("echo.mix: {most: 60 %}", "echo: {engage: on, mix: 60 %}"),
            "below it": limited("echo.mix: {most: 60 %}", "echo: {engage: on, mix: 59 %}"),
            "at the lower limit": limited(
                "echo.mix: {least: 20 %, most: 60 %}", "echo: {engage: on, mix: 20 %}"
            ),
            "another control": limited("echo.time: {most: 600 ms}", "echo: {engage: on, mix: 61 %}"),
            "a time at its limit": limited("echo.time: {most: 600 ms}", "echo: {engage: on, time: 600 ms}"),
            "a note value below it": limited("echo.time: {most: 600 ms}", "echo: {engage: on, time: 1/4}"),
        },
    ),
    Near(
        "rounded",
        chorus("echo: {engage: on, time: 14 ms}"),
        {
            "a step of it": chorus("echo: {engage: on, time: 10 ms}"),
            "within two in a hundred": chorus("echo: {engage: on, time: 403 ms}"),
            "a tolerance": shown(
                chorus("echo: {engage: on, time: 14 ms}"),
                but((ECHO, "1270 ms], stored: yes", "1270 ms], stored: yes, tolerance: 40 %")),
            ),
            "two in a hundred of the range": chorus("echo: {engage: on, mix: 0.5 %}"),
            "nought": chorus("echo: {engage: on, time: 0 ms}"),
        },
    ),
    Near(
        "missing-patch",
        chorus("echo: clif"),
        {
            "spelt as it is": chorus("echo: cliff"),
            "the other": chorus("echo: slap"),
            "by its name": chorus("echo: {engage: on, patch: slap}"),
            "on": chorus("echo: on"),
            "a patch that one rig only has": spare(
                ("cliff: {small.patch: dark}", "cliff: {small.patch: dark}, slap: {small.patch: dark}")
            ),
        },
    ),
    Near(
        "not-stored",
        chorus("echo.engage: as stored"),
        {
            "a level that is": chorus("echo: {engage: on, patch: cliff, mix: as stored}"),
            "a time that is": chorus("echo: {engage: on, patch: cliff, time: as stored}"),
            "home": chorus("echo.engage: home"),
            "on": chorus("echo.engage: on"),
            "stored by the definition": shown(
                chorus("echo: {patch: cliff, engage: as stored}"),
                but((ECHO, "cc: 80, main: yes", "cc: 80, main: yes, stored: yes")),
            ),
        },
    ),
    Near(
        "not-in-hands",
        chorus("echo.time: leave"),
        {
            "in the song's": shown(
                song(
                    "tempo: 120\nhands: [echo.time]\nscenes:\n"
                    "  verse: {at: bar 1, gate: tight}\n  chorus: {at: bar 9, echo: on, echo.time: "
                    "leave}\n"
                )
            ),
            "in the rig's": shown(rig("", "", "hands: [echo.time]\n"), chorus("echo: on, echo.time: leave")),
            "the whole device": shown(
                rig("", "", "hands: [echo]\n"), chorus("gate: tight, echo.time: leave")
            ),
            "moved by the player": shown(
                but((ECHO, "1270 ms], stored: yes", "1270 ms], stored: yes, moved-by: player")),
                chorus("echo: on, echo.time: leave"),
            ),
            "set instead": chorus("echo: {engage: on, time: 400 ms}"),
        },
    ),
    Near(
        "hands-in-base",
        song(
            "tempo: 120\nhands: [gate-1.threshold]\nbase: {gate-1.threshold: -40 dB}\n"
            "scenes: {verse: {echo: cliff}}\n"
        ),
        {
            "in a scene": song(
                "tempo: 120\nhands: [gate-1.threshold]\nscenes: {verse: {gate-1.threshold: -40 dB}}\n"
            ),
            "another control in the base": song(
                "tempo: 120\nhands: [gate-1.threshold]\nbase: {echo: cliff}\nscenes: {verse: {gate: tight}}\n"
            ),
            "not in hands": song(
                "tempo: 120\nbase: {gate-1.threshold: -40 dB}\nscenes: {verse: {echo: cliff}}\n"
            ),
            "in home": shown(
                rig("", "", "hands: [gate-1.threshold]\n"), song("scenes: {verse: {echo: cliff}}\n")
            ),
            "by a word in a scene": song("hands: [gate-1.threshold]\nscenes: {verse: {gate: tight}}\n"),
        },
    ),
    Near(
        "trigger-misplaced",
        shown(bell("echo: cliff"), song("base: {bells.bell: now}\nscenes: {verse: {gate: tight}}\n")),
        {
            "in a scene": bell("bells.bell: now"),
            "in two scenes": shown(
                bell("echo: cliff"),
                scenes(
                    "verse: {at: bar 1, bells.bell: now}", "chorus: {at: bar 9, bells.bell: now, gate: tight}"
                ),
            ),
            "by an entry": shown(
                bell("echo: cliff"),
                rig(
                    "  bells: {port: rack, channel: 4, definition: box}\n",
                    "",
                    "",
                    (RIG, "vocabulary:\n", "vocabulary:\n  knell: bells.bell\n"),
                ),
                chorus("knell: now"),
            ),
            "in a scene that is like another": shown(
                bell("echo: cliff"),
                scenes(
                    "verse: {at: bar 1, gate: tight}", "chorus: {at: bar 9, like: verse, bells.bell: now}"
                ),
            ),
            "nowhere": bell("echo: cliff"),
        },
    ),
    Near(
        "not-translated",
        spare(("  echo.patch: {cliff: {small.patch: dark}}\n", "")),
        {
            "by a table": spare(),
            "handed on": spare(
                ("echo.patch: {cliff: {small.patch: dark}}", "echo.patch: small.patch"),
                ("patches: {dark: 2}", "patches: {dark: 2, cliff: 3}"),
            ),
            "done without": spare(("echo.patch: {cliff: {small.patch: dark}}", "echo.patch: nothing")),
            "the whole device done without": spare(
                (
                    "  echo.engage: small.engage\n  echo.patch: {cliff: {small.patch: dark}}\n",
                    "  echo: nothing\n",
                )
            ),
            "a name that no song says": spare(("  echo.patch:", "  echo.mix: small.mix\n  echo.patch:")),
        },
    ),
)
