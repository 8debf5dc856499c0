"""Reading: files, text, keys, names."""

from __future__ import annotations

from tests.checks.nearby import (
    BOX,
    ECHO,
    GATE,
    RIG,
    SHOW,
    SONG,
    Near,
    box,
    but,
    legs,
    rig,
    scenes,
    shown,
    song,
)

EBB = "song: Ebb\nscenes: {low: {gate: tight}}\n"
TITLE = "song: Lantern"


def titled(more: str) -> dict[str, str]:
    """The base song with lines after its title."""
    return but((SONG, TITLE, f"{TITLE}\n{more}"))


NEARS = (
    Near(
        "file-unreadable",
        {"lan.tern.yaml": EBB},
        {
            "a dash in a name": {"low-tide.yaml": EBB} | legs("lantern, low-tide"),
            "a digit first": {"9-lanterns.yaml": EBB} | legs("lantern, 9-lanterns"),
            "a space inside": {"low tide.yaml": EBB} | legs("lantern, low tide"),
            "a capital letter": {"Ebb.yaml": EBB} | legs("lantern, Ebb"),
            "a dot in a file of no show": {"notes.for.me.txt": "oil the pedal\n"},
            "a hidden file": {".ebb.swp": "\x00\x01"},
        },
    ),
    Near(
        "file-passed-over",
        {"ebb.yml": EBB},
        {
            "a backup": {"ebb.yaml.bak": EBB},
            "a text": {"ebb.txt": EBB},
            "a readme beside the rigs": {"rigs/readme.md": "the rigs\n"},
            "another folder": {"notes/ebb.yml": EBB},
            "a longer suffix": {"ebb.ymlx": EBB},
        },
    ),
    Near(
        "too-large",
        song(f"remark: {'[' * 25}late{']' * 25}\nscenes: {{verse: {{gate: tight}}}}\n"),
        {
            "brackets in a text": titled(f'remark: "{"[" * 30}late{"]" * 30}"'),
            "a file of the very most": {
                SONG: (text := scenes("verse: {gate: tight}")[SONG]) + "#" * (2**20 - len(text))
            },
            "a hundred scenes": scenes(*(f"s{n}: {{echo: {{engage: on, mix: {n} %}}}}" for n in range(100))),
            "a long remark": titled(f"remark: {'drip ' * 5000}"),
            "nested to the most": song(
                f"remark: {'[' * 23}late{']' * 23}\nscenes: {{verse: {{gate: tight}}}}\n"
            ),
        },
        {"nested to the most": ("wrong-shape",)},
    ),
    Near(
        "not-text",
        titled("remark: late\x0c"),
        {
            "accents": titled("remark: à la fin, Björn"),
            "other letters": titled("remark: 夜の灯台"),
            "typographic quotes": titled("remark: “slower”, he says"),
            "a mark before the first line": {SONG: "\ufeff" + scenes("verse: {gate: tight}")[SONG]},
            "a long dash": titled("remark: slow — then fast"),
        },
    ),
    Near(
        "yaml-syntax",
        titled("remark: slow: then fast"),
        {
            "a colon in quotes": titled('remark: "slow: then fast"'),
            "a colon with nothing after it": titled("remark: slow:fast"),
            "a clock time": titled("remark: from 2:05 on"),
            "a comma": titled("remark: slow, then fast"),
            "a bracket in quotes": titled('remark: "slow [then fast"'),
            "a hash in a word": titled("remark: in F#m"),
            "a comment": titled("remark: slow   # then: fast"),
        },
    ),
    Near(
        "yaml-feature",
        titled("remark: &slow late"),
        {
            "an ampersand inside": titled("remark: rhythm & blues"),
            "an asterisk inside": titled("remark: late * very"),
            "an exclamation mark at the end": titled("remark: late!"),
            "arrows in quotes": titled('remark: "<< late"'),
            "dashes inside": titled("remark: late --- very"),
            "one document marked": {SONG: "---\n" + scenes("verse: {gate: tight}")[SONG]},
        },
    ),
    Near(
        "key-twice",
        but((SONG, "chorus: {at: bar 9", "verse: {at: bar 9")),
        {
            "another case": but((SONG, "chorus: {at: bar 9, like: verse", "Verse: {at: bar 9, like: verse")),
            "a number more": but((SONG, "chorus: {at: bar 9", "verse 2: {at: bar 9")),
            "the same line in two scenes": but(
                (SONG, "chorus: {at: bar 9, like: verse", "chorus: {at: bar 9, gate: tight")
            ),
            "a device's line and its control's": but((SONG, "echo: cliff", "echo: cliff, echo.mix: 40 %")),
            "an entry and a device of it": but(
                (SONG, "gate: tight", "gate: tight, gate-1.threshold: -40 dB")
            ),
            "one name in two blocks": but(
                (RIG, "loose: {gate-1", "slap: {gate-1"), (RIG, "gate: loose", "gate: slap")
            ),
        },
    ),
    Near(
        "value-missing",
        titled("remark:"),
        {
            "a word for nothing": titled("remark: nothing"),
            "null as a text": titled("remark: null"),
            "a tilde in quotes": titled('remark: "~"'),
            "naught": titled("remark: 0"),
            "no": titled("remark: no"),
            "the value on the next line": titled("remark:\n  late"),
        },
    ),
    Near(
        "unknown-key",
        titled("remrak: late"),
        {
            "remark": titled("remark: late"),
            "budget": titled("budget: 1 s"),
            "land": titled("land: as sent"),
            "hands": titled("hands: [echo.time]"),
            "base": titled("base: {gate: tight}"),
        },
    ),
    Near(
        "missing-key",
        but((RIG, "channel: 2, definition: plain-gate", "channel: 2")),
        {
            "a device without patches": rig(
                "  gate-2: {port: rack, channel: 4, definition: plain-gate}\n", "gate-2: {threshold: -40 dB}"
            ),
            "a port without a way back": rig("", "", "", (RIG, "speed: din}", "speed: usb}")),
            "a song without a tempo": but((SONG, "tempo: 120\n", "")),
            "a scene without a place": but(
                (SONG, "verse: {at: bar 1, ", "verse: {"), (SONG, "at: bar 9, ", "")
            ),
            "a leg without changes": legs("lantern"),
            "a rig like another": {"rigs/b-rig.yaml": "rig: B rig\nlike: a-rig\n"}
            | legs("lantern", "[a-rig, b-rig]"),
        },
    ),
    Near(
        "wrong-shape",
        but((SHOW, "setlist: [lantern]", "setlist: lantern")),
        {
            "a place in a list": but((SONG, "at: bar 1,", "at: [bar 1],")),
            "a parent in a list": but((SONG, "like: verse", "like: [verse]")),
            "a patch as a block": but((RIG, "slap: 4", "slap: {at: 4}")),
            "a scene as a name": but(
                (SONG, "verse: {at: bar 1, gate: tight}", "verse: {at: bar 1, gate: tight}\n  lull: verse")
            ),
            "a tempo as a list": but((SONG, "tempo: 120", "tempo: [{at: bar 1, bpm: 120}]")),
            "hands as an empty list": titled("hands: []"),
        },
        {"a scene as a name": ("never-visited",)},
    ),
    Near(
        "bad-name",
        but((SONG, "chorus: {at", "cho.rus: {at")),
        {
            "a space and a number": but((SONG, "chorus: {at", "verse 3: {at")),
            "a dash": but((SONG, "chorus: {at", "pre-chorus: {at")),
            "a word of ours inside": but((SONG, "chorus: {at", "home again: {at")),
            "a longer word": but((SONG, "chorus: {at", "ordered: {at")),
            "an underscore": but((SONG, "chorus: {at", "big_chorus: {at")),
            "off as a scene": but((SONG, "chorus: {at", "off: {at")),
            "an apostrophe": but((SONG, "chorus: {at", "keeper's song: {at")),
        },
    ),
    Near(
        "number-outside",
        but((RIG, "channel: 3", "channel: 17")),
        {
            "channel 16": but((RIG, "channel: 3", "channel: 16")),
            "channel 1": but((RIG, "channel: 3", "channel: 1")),
            "controller 119": but((GATE, "cc: 20", "cc: 119")),
            "code 127": but((GATE, "codes: [0, 100]", "codes: [0, 127]")),
            "128 programs": but((ECHO, "count: 128", "count: 128")),
            "one program": but((ECHO, "count: 128", "count: 17")),
            "note 127": box("controls: {hit: {kind: trigger, note: 127}}\n"),
            "note 0": box("controls: {hit: {kind: trigger, note: 0}}\n"),
        },
    ),
    Near(
        "unknown-name",
        but((SONG, "echo: cliff", "ecko: cliff")),
        {
            "a control by its device": but((SONG, "echo: cliff", "echo: cliff, echo.time: 400 ms")),
            "a parent further down": but(
                (
                    SONG,
                    "verse: {at: bar 1, gate: tight}",
                    "verse: {at: bar 1, like: lull}\n  lull: {gate: tight}",
                )
            ),
            "an instrument that the rig has": shown(
                rig("", "", "instruments: {mandola: {}}\n"), titled("instrument: mandola")
            ),
            "a standing scene": shown(
                rig("", "", "standing: {silence: {echo: off}}\n"), legs("lantern, {standing: silence}")
            ),
            "a definition that no rig uses": {
                BOX: "definition: box\ncontrols: {hit: {kind: trigger, note: 1}}\n"
            },
            "a loop by its number": shown(
                box("loops: {cc: [80, 81]}\n", home="loop-1: off, loop-2: off"),
                scenes("verse: {at: bar 1, box: {loops: [2]}}"),
            ),
        },
    ),
    Near(
        "accepted-nothing",
        legs("lantern", rest="accept: [{name: rounded, where: lantern.yaml, because: heard}]\n"),
        {
            "a warning of that name there": shown(
                legs("lantern", rest="accept: [{name: rounded, where: lantern.yaml, because: heard}]\n"),
                scenes("verse: {at: bar 1, echo: {engage: on, time: 14 ms}}"),
            ),
            "with text that the message has": shown(
                legs(
                    "lantern",
                    rest="accept: [{name: rounded, where: lantern.yaml echo.time, because: heard}]\n",
                ),
                scenes("verse: {at: bar 1, echo: {engage: on, time: 14 ms}}"),
            ),
            "a hint": shown(
                legs(
                    "lantern", rest="accept: [{name: never-visited, where: lantern.yaml, because: by hand}]\n"
                ),
                scenes("verse: {at: bar 1, gate: tight}", "lull: {gate: loose}"),
            ),
            "two findings of one name": shown(
                legs("lantern", rest="accept: [{name: rounded, where: lantern.yaml, because: heard}]\n"),
                scenes(
                    "verse: {at: bar 1, echo: {engage: on, time: 14 ms}}",
                    "lull: {at: bar 9, echo: {engage: on, time: 16 ms}}",
                ),
            ),
            "two acceptances of one finding": shown(
                legs(
                    "lantern",
                    rest="accept:\n- {name: rounded, where: lantern.yaml, because: heard}\n"
                    "- {name: rounded, where: lantern.yaml 14 ms, because: heard too}\n",
                ),
                scenes("verse: {at: bar 1, echo: {engage: on, time: 14 ms}}"),
            ),
            "no acceptance": legs("lantern", rest="accept: []\n"),
        },
        {
            "a warning of that name there": ("rounded",),
            "with text that the message has": ("rounded",),
            "two findings of one name": ("rounded", "rounded"),
            "two acceptances of one finding": ("rounded",),
        },
    ),
)
