"""The rig: channels, ports, patches, hazards."""

from __future__ import annotations

from tests.checks.nearby import BOX, ECHO, RIG, Files, Near, box, but, rig, scenes, shown

SAMPLER = """\
programs: {count: 16, first: 0}
controls: {relay: {kind: switch, program: yes, codes: {on: 5, off: 6}}}
"""


def beside(definition: str, keys: str, home: str) -> Files:
    """A box beside the echo, whose channel is 3, on the same port."""
    return box(definition, keys, home)


def relay(at: int, definition: str = SAMPLER, keys: str = "channel: 9") -> Files:
    """A box with a patch at a place, and a switch that travels as program 5 and 6 on the wire."""
    return box(definition, f"{keys}, patches: {{p: {at}}}", "patch: p, relay: off")


def hall(controls: str, keys: str) -> Files:
    """A box whose level listens on a channel called hall."""
    return box(f"controls:\n{controls}", keys, "level: 0")


def controller(sends: str, channel: int = 3, port: str = "rack") -> Files:
    """A controller on the echo's port and channel."""
    keys = f"{{port: {port}, channel: {channel}, sends: {{{sends}}}}}"
    return but(
        (RIG, "devices:\n", f"controllers:\n  floor: {keys}\ndevices:\n"),
        (RIG, "rack: {", "shelf: {out: shelf, speed: din}\n  rack: {"),
    )


HAZE = "hazard: makes haze in the house\ncontrols: {output: {kind: switch, cc: 80, main: yes}}\n"
MEMORY = (
    "controls: {knob: {kind: level, cc: 20, range: [0, 127]}, store: {kind: trigger, cc: 82, writes: yes}}\n"
)
HALF_HAZE = "controls: {fan: {kind: switch, cc: 80}, haze: {kind: switch, cc: 81, hazard: makes haze}}\n"

NEARS = (
    Near(
        "hazard",
        box(HAZE, home="output: off"),
        {
            "a definition that no rig uses": {BOX: f"definition: box\n{HAZE}"},
            "a control that nothing names": box(HALF_HAZE, home="fan: off"),
            "a remark about smoke": rig(
                "  box: {port: rack, channel: 4, definition: plain-gate, remark: smoke}\n",
                "box.threshold: -30 dB",
            ),
            "a name about smoke": rig(
                "  smoke: {port: rack, channel: 4, definition: plain-gate}\n", "smoke.threshold: -30 dB"
            ),
            "a controller of somebody else on another port": controller("cc: [81]", port="shelf"),
        },
    ),
    Near(
        "writes-memory",
        shown(box(MEMORY, home="knob: 5"), scenes("verse: {at: bar 1, box.store: now}")),
        {
            "nothing names it": box(MEMORY, home="knob: 5"),
            "its neighbour": shown(box(MEMORY, home="knob: 5"), scenes("verse: {at: bar 1, box.knob: 9}")),
            "a trigger that does not write": shown(
                box(MEMORY.replace(", writes: yes", ""), home="knob: 5"),
                scenes("verse: {at: bar 1, box.store: now}"),
            ),
            "a word of that name": shown(
                box(MEMORY, home="knob: 5", rest="instruments: {store: {}}\n"),
                scenes("verse: {at: bar 1, gate: tight}", "store: {at: bar 9, gate: loose}"),
            ),
            "a definition that no rig uses": {BOX: f"definition: box\n{MEMORY}"},
        },
    ),
    Near(
        "patch-outside",
        but((RIG, "slap: 4", "slap: 129")),
        {
            "the last program": but((RIG, "slap: 4", "slap: 128")),
            "the first program": but((RIG, "slap: 4", "slap: 1")),
            "nought where the panel has it": but((RIG, "slap: 4", "slap: 0"), (ECHO, "first: 1", "first: 0")),
            "the last of a short panel": but((RIG, "slap: 4", "slap: 20"), (ECHO, "count: 128", "count: 20")),
            "outright": but((RIG, "slap: 4", "slap: {program: 128}")),
        },
    ),
    Near(
        "channel-missing",
        hall("  level: {kind: level, cc: 20, channel: hall, range: [0, 9]}\n", "channels: {main: 4}"),
        {
            "each has one": hall(
                "  level: {kind: level, cc: 20, channel: hall, range: [0, 9]}\n",
                "channels: {main: 4, hall: 5}",
            ),
            "both by name, the main one not used": hall(
                "  level: {kind: level, cc: 20, channel: hall, range: [0, 9]}\n",
                "channels: {hall: 5, main: 4}",
            ),
            "the main one": hall("  level: {kind: level, cc: 20, range: [0, 9]}\n", "channels: {main: 4}"),
            "two names for one channel": hall(
                "  level: {kind: level, cc: 20, channel: hall, range: [0, 9]}\n",
                "channels: {main: 4, hall: 4}",
            ),
            "no main one needed": hall("  level: {kind: level, cc: 20, range: [0, 9]}\n", "channel: 16"),
        },
    ),
    Near(
        "channel-clash",
        beside("controls: {knob: {kind: level, cc: 80, range: [0, 127]}}\n", "channel: 3", "knob: 5"),
        {
            "another channel": beside(
                "controls: {knob: {kind: level, cc: 80, range: [0, 127]}}\n", "channel: 4", "knob: 5"
            ),
            "another controller": beside(
                "controls: {knob: {kind: level, cc: 81, range: [0, 127]}}\n", "channel: 3", "knob: 5"
            ),
            "a note of that number": beside(
                "controls: {knob: {kind: switch, note: 80, codes: {on: 2, off: 1}}}\n",
                "channel: 3",
                "knob: off",
            ),
            "a trigger that no scene fires": beside(
                "controls: {knob: {kind: trigger, cc: 85}}\n", "channel: 3", ""
            ),
            "omni, and nothing in common": beside(
                "controls: {knob: {kind: level, cc: 85, range: [0, 127]}}\n",
                "channel: 9, omni: yes",
                "knob: 5",
            ),
            "a gang": but((RIG, "channel: 3", "channel: 3\n    gang: 2")),
            "another port": but(
                (RIG, "rack: {out: rack", "shelf: {out: shelf, speed: din}\n  rack: {out: rack"),
                (RIG, "gate-1: {port: rack, channel: 2", "gate-1: {port: shelf, channel: 3"),
            ),
        },
        {
            "another controller": ("channel-shared",),
            "a note of that number": ("channel-shared",),
            "a trigger that no scene fires": ("channel-shared",),
        },
    ),
    Near(
        "channel-shared",
        beside("controls: {knob: {kind: level, cc: 81, range: [0, 127]}}\n", "channel: 3", "knob: 5"),
        {
            "the next channel": beside(
                "controls: {knob: {kind: level, cc: 81, range: [0, 127]}}\n", "channel: 4", "knob: 5"
            ),
            "an omni box": beside(
                "controls: {knob: {kind: level, cc: 81, range: [0, 127]}}\n",
                "channel: 3, omni: yes",
                "knob: 5",
            ),
            "a gang": but((RIG, "channel: 3", "channel: 3\n    gang: 2")),
            "two channels of one box": beside(
                (
                    "controls: {knob: {kind: level, cc: 81, range: [0, 127]}, other: {kind: "
                    "level, cc: 82, channel: x, range: [0, 9]}}\n"
                ),
                "channels: {main: 4, x: 4}",
                "knob: 5, other: 5",
            ),
            "another port": but(
                (RIG, "rack: {out: rack", "shelf: {out: shelf, speed: din}\n  rack: {out: rack"),
                (RIG, "gate-1: {port: rack, channel: 2", "gate-1: {port: shelf, channel: 3"),
            ),
            "exclusive of two boxes": shown(
                beside(
                    "controls: {knob: {kind: level, sysex: {body: [0x7D, id, value]}, range: [0, 127]}}\n",
                    "channel: 4, id: 1",
                    "knob: 5",
                ),
            ),
        },
    ),
    Near(
        "controller-reaches",
        controller("cc: [80]"),
        {
            "another channel": controller("cc: [80]", 4),
            "another port": controller("cc: [80]", 3, "shelf"),
            "another controller": controller("cc: [81]"),
            "a range beside": controller("cc: [23-79, 81-99]"),
            "notes of that number": controller("notes: [80]"),
            "a pitch bend": controller("pitch-bend: yes"),
            "programs on a channel of no device": controller("programs: yes", 16),
        },
    ),
    Near(
        "patch-twice",
        but((RIG, "slap: 4", "slap: {at: 17, stores: {mix: 35 %}}")),
        {
            "the next number": but((RIG, "slap: 4", "slap: {at: 16, stores: {mix: 35 %}}")),
            "the same of another device": rig(
                "  echo-2: {port: rack, channel: 4, definition: two-tap-echo, patches: {slap: 17}}\n",
                "echo-2: slap",
            ),
            "outright, the one below": but((RIG, "slap: 4", "slap: {program: 16}")),
            "all that they store alike": but(
                (RIG, "slap: 4", "slap: {at: 18, stores: {mix: 35 %, time: 480 ms}}")
            ),
            "the panel's number of one the wire's of the other": but((RIG, "slap: 4", "slap: 16")),
        },
    ),
    Near(
        "program-shared",
        relay(5),
        {
            "the program below": relay(4),
            "the program above": relay(7),
            "a channel of its own": relay(
                5, SAMPLER.replace("first: 0}", "first: 0, channel: x}"), "channels: {main: 9, x: 10}"
            ),
            "a panel that counts from 1": relay(5, SAMPLER.replace("first: 0", "first: 1")),
            "another bank": box(
                "programs: {count: 256, first: 0, bank: cc0, bank-when: always}\n"
                "controls: {relay: {kind: switch, program: yes, bank: 2, codes: {on: 5, off: 6}}}\n",
                "channel: 9, patches: {p: 5}",
                "patch: p, relay: off",
            ),
        },
    ),
)
