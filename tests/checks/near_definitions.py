"""Definitions: scales, carriers, templates, programs and panels."""

from __future__ import annotations

from tests.checks.nearby import ECHO, GATE, RIG, Files, Near, box, but

MAIN = "  engage: {kind: switch, cc: 80, main: yes}\n"
PROGRAMS = "programs: {count: 128, first: 1, settle: 35 ms, repeat: recalls}"


def one(control: str, home: str = "", keys: str = "channel: 4") -> Files:
    """A box with one control, `knob`."""
    return box(f"controls:\n  knob: {{{control}}}\n", keys, f"knob: {home}" if home else "")


def two(first: str, second: str) -> Files:
    """A definition that no rig uses, with two controls."""
    return {"definitions/box.yaml": f"definition: box\ncontrols:\n  a: {{{first}}}\n  b: {{{second}}}\n"}


def resets(*lines: str) -> Files:
    """A definition that no rig uses, with choices `a`, `b` and `c` that reset others, and a level `d`."""
    letters = zip("abc", range(20, 23), lines, strict=True)
    choices = "".join(f"  {x}: {{kind: choice, cc: {n}, values: {{p: 0, q: 1}}{r}}}\n" for x, n, r in letters)
    return {
        "definitions/box.yaml": "definition: box\ncontrols:\n"
        + choices
        + "  d: {kind: level, cc: 30, range: [0, 127]}\n"
    }


def panel(programs: str, at: str, other: str = "") -> Files:
    """The echo with other programs, its patches at these places of the panel."""
    return but(
        (ECHO, PROGRAMS, f"programs: {{{programs}, settle: 35 ms, repeat: recalls}}"),
        (RIG, "slap: 4", f"slap: {at}"),
        (RIG, "cliff: {at: 17,", f"cliff: {{{other or f'at: {at}'},"),
    )


def template(body: str, more: str = "") -> Files:
    """A level that travels as system exclusive."""
    return one(f"kind: level, range: [0, 127], sysex: {{body: [{body}]{more}}}", "5", "channel: 4, id: 3")


NEARS = (
    Near(
        "scale-wrong",
        but((GATE, "[-70 dB, -20 dB]", "[-20 dB, -70 dB]")),
        {
            "a range below nothing": but((GATE, "[-70 dB, -20 dB]", "[-70 dB, -21 dB]")),
            "a centre between": one(
                "kind: level, cc: 20, range: [-10, 10], codes: [0, 100], centre: 50", "0"
            ),
            "points": one("kind: level, cc: 20, points: [[0, 0 dB], [127, 12 dB]]", "0 dB"),
            "a bottom beside the range": one(
                "kind: level, cc: 20, range: [-40 dB, 6 dB], codes: [1, 127], bottom: 0", "-inf dB"
            ),
            "two words side by side": one("kind: choice, cc: 20, values: {a: 0-63, b: 64-127}", "a"),
            "on below off": one("kind: switch, cc: 20, codes: {on: 0, off: 1}", "off"),
            "the longest time first in Hz": one("kind: time, cc: 20, range: [0.1 Hz, 10 Hz]", "0.1 Hz"),
        },
    ),
    Near(
        "reset-circle",
        resets(", resets: [b]", ", resets: [c]", ", resets: [a]"),
        {
            "a chain": resets(", resets: [b]", ", resets: [c]", ""),
            "two that reset one": resets(", resets: [d]", ", resets: [d]", ""),
            "one that resets two": resets(", resets: [b, d]", "", ""),
            "a chain and a short cut": resets(", resets: [b, c]", ", resets: [c]", ""),
            "a chain to a level": resets(", resets: [b]", ", resets: [d]", ""),
            "a chain backwards": resets("", ", resets: [a]", ", resets: [b]"),
        },
    ),
    Near(
        "carrier-wrong",
        one("kind: level, range: [0, 127]", "5"),
        {
            "a controller": one("kind: level, cc: 20, range: [0, 127]", "5"),
            "a pair": one("kind: level, cc14: [12, 44], range: [0, 127]", "5"),
            "a parameter": one("kind: level, nrpn: [1, 8], data: 7, range: [0, 127]", "5"),
            "a pitch bend": one("kind: level, pitch-bend: yes, range: [0, 127]", "5"),
            "a pressure": one("kind: level, channel-pressure: yes, range: [0, 127]", "5"),
            "a note": one("kind: switch, note: 60, codes: {on: 127, off: 1}", "off"),
            "a program": one("kind: choice, program: yes, values: {a: 0, b: 1}", "a"),
            "a controller beside its carrier": one(
                "kind: level, cc: 20, also-cc: [21], range: [0, 127]", "5"
            ),
        },
    ),
    Near(
        "template-wrong",
        template("0x7D, 0x12, 0x05"),
        {
            "a value": template("0x7D, 0x12, value"),
            "two halves": template("0x7D, 0x12, value-msb, value-lsb"),
            "the lower half first": template("0x7D, 0x12, value-lsb, value-msb"),
            "an id": template("0x7D, id, 0x12, value"),
            "a checksum over what it says": template("0x7D, 0x12, value, checksum", ", checksum: [2, 3]"),
            "no value in a trigger": one("kind: trigger, sysex: {body: [0x7D, 0x12]}"),
            "the highest byte": template("0x7D, 0x7F, value"),
        },
    ),
    Near(
        "carrier-twice",
        two("kind: level, cc: 20, range: [0, 9]", "kind: level, cc: 20, range: [0, 9]"),
        {
            "the next number": two(
                "kind: level, cc: 20, range: [0, 9]", "kind: level, cc: 21, range: [0, 9]"
            ),
            "another channel": two(
                "kind: level, cc: 20, range: [0, 9]", "kind: level, cc: 20, channel: x, range: [0, 9]"
            ),
            "a note of that number": two("kind: level, cc: 20, range: [0, 9]", "kind: trigger, note: 20"),
            "a program of that number": two(
                "kind: level, cc: 20, range: [0, 9]", "kind: switch, program: yes, codes: {on: 20, off: 21}"
            ),
            "a pair beside it": two(
                "kind: level, cc: 20, range: [0, 9]", "kind: level, cc14: [21, 52], range: [0, 9]"
            ),
            "registered and not": two(
                "kind: level, rpn: [0, 5], data: 7, range: [0, 9]",
                "kind: level, nrpn: [0, 5], data: 7, range: [0, 9]",
            ),
            "a parameter of the other half": two(
                "kind: level, nrpn: [0, 5], data: 7, range: [0, 9]",
                "kind: level, nrpn: [5, 0], data: 7, range: [0, 9]",
            ),
            "a template of another length": two(
                "kind: trigger, sysex: {body: [0x7D, 1]}", "kind: trigger, sysex: {body: [0x7D, 1, 2]}"
            ),
        },
    ),
    Near(
        "cc-reserved",
        but((GATE, "cc: 20", "cc: 120")),
        {
            "119": but((GATE, "cc: 20", "cc: 119")),
            "1": but((GATE, "cc: 20", "cc: 1")),
            "5": but((GATE, "cc: 20", "cc: 5")),
            "7": but((GATE, "cc: 20", "cc: 7")),
            "33": but((GATE, "cc: 20", "cc: 33")),
            "95": but((GATE, "cc: 20", "cc: 95")),
            "102": but((GATE, "cc: 20", "cc: 102")),
            "note 120": one("kind: trigger, note: 120"),
        },
    ),
    Near(
        "repeat-missing",
        but((ECHO, ", repeat: recalls", "")),
        {
            "nothing is stored": but(
                (ECHO, ", repeat: recalls", ""),
                (ECHO, "codes: [0, 100], stored: yes", "codes: [0, 100]"),
                (ECHO, "1270 ms], stored: yes", "1270 ms]"),
                (RIG, "cliff: {at: 17, stores: {mix: 35 %, time: 480 ms}}", "cliff: 17"),
                (RIG, "engage: off, patch: slap", "engage: off, patch: slap, mix: 0 %, time: 0 ms"),
            ),
            "it recalls, and settles at once": but((ECHO, "settle: 35 ms, ", "")),
            "it flips a switch": but(
                (ECHO, "repeat: recalls", "repeat: toggles engage"),
                (RIG, "slap: 4", "slap: {at: 4, stores: {mix: 0 %, time: 0 ms}}"),
            ),
            "it does nothing": but(
                (ECHO, "repeat: recalls", "repeat: nothing"),
                (RIG, "slap: 4", "slap: {at: 4, stores: {mix: 0 %, time: 0 ms}}"),
            ),
            "no programs and nothing stored": one("kind: level, cc: 20, range: [0, 127]", "5"),
        },
    ),
    Near(
        "panel-wrong",
        panel("count: 128, panel: {banks: A-D, slots: 1-8}", "A1", "at: A2"),
        {
            "a count that is the panel's": panel(
                "count: 32, panel: {banks: A-D, slots: 1-8}", "A1", "at: A2"
            ),
            "a count short of the panel's last bank": panel(
                "count: 30, panel: {banks: A-D, slots: 1-8}", "A1", "at: D6"
            ),
            "128 in four banks": panel("count: 128, panel: {banks: A-D, slots: 1-32}", "A1", "at: A2"),
            "more than 128 with a bank select": panel(
                "count: 256, first: 1, bank: cc0, bank-when: always", "1", "at: 256"
            ),
            "counted from nought": panel("count: 128, first: 0", "0", "at: 127"),
            "a dash between": panel(
                'count: 128, panel: {banks: 01-32, slots: 1-4, between: "-"}', "01-1", "at: 32-4"
            ),
            "a remap of one onto another": panel("count: 128, first: 1, remap: {5: 12}", "1", "at: 12"),
        },
    ),
)
