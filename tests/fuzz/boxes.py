"""Drawn boxes: what a model of device understands, the texts that its controls take, its place in a rig."""

from __future__ import annotations

from dataclasses import dataclass

from tests.compile.drawn import Dice

Tree = str | list["Tree"] | dict[str, "Tree"]
"""What a file says, before it is written as YAML."""

Block = dict[str, Tree]

REMARKS = (
    "from the chart",
    "page 4, row 2: as printed",
    "it's # 4",
    '"quoted", {braced}, [listed]',
    "R\u00f6hre \u0437\u0430 \u05d0\u05d1 \U0001f56f e\u0301",
    "long " * 50 + "end",
)


@dataclass(frozen=True, slots=True)
class Control:
    """A control: its keys, the texts that any line may give it, note values where it takes them."""

    name: str
    keys: Block
    texts: tuple[str, ...]
    notes: tuple[str, ...] = ()
    most: str = ""
    stored: bool = False

    @property
    def trigger(self) -> bool:
        """Whether it has no state."""
        return self.keys.get("kind") == "trigger"


@dataclass(frozen=True, slots=True)
class Box:
    """A device: its definition's id and file, its controls (of crosspoint and loops too), its patches.

    `whole` where the patches must list all that they store, since a repeat may not recall them.
    """

    name: str
    definition: str
    tree: Block
    controls: tuple[Control, ...]
    patches: dict[str, str]
    whole: bool
    held: tuple[str, ...]
    piezo: bool

    def free(self) -> list[Control]:
        """The controls with a state that are not in the player's hands."""
        return [c for c in self.controls if not c.trigger and c.name not in self.held]

    def line(self, dice: Dice, notes: bool = False) -> tuple[str, Tree]:
        """A dotted line that sets one thing of the box."""
        if self.patches and dice.often(25):
            return f"{self.name}.patch", dice.pick(list(self.patches))
        control = dice.pick(self.free())
        return f"{self.name}.{control.name}", dice.pick(control.texts + (control.notes if notes else ()))


def _level(range: list[Tree], **more: Tree) -> Block:
    return {"kind": "level", "range": range, **more}


_POINTS: list[Tree] = [["0", "20 Hz"], ["64", "200 Hz"], ["127", "2000 Hz"]]
_HALVES: Block = {"off": "0-63", "on": "64-127"}
KINDS: tuple[Control, ...] = (
    Control("engage", {"kind": "switch", "main": "yes"}, ("on", "off")),
    Control("mix", _level(["0 %", "100 %"], codes=["0", "100"]), ("0 %", "35 %", "100 %"), (), "100 %"),
    Control(
        "time", {"kind": "time", "range": ["0 ms", "2 s"]}, ("0 ms", "2 Hz"), ("1/8", "1/4 triplet"), "2 s"
    ),
    Control("mode", {"kind": "choice", "values": {"tape": "0", "on": "1", "2": "2"}}, ("tape", "on", "2")),
    Control(
        "swell", _level(["-60 dB", "6 dB"], codes=["1", "67"], bottom="0"), ("-inf dB", "0 dB"), (), "6 dB"
    ),
    Control("pitch", _level(["-12", "12"], centre="64", tolerance="100 %"), ("-12", "0", "+7"), (), "12"),
    Control("tone", {"kind": "level", "points": _POINTS}, ("20 Hz", "200 Hz", "2000 Hz"), (), "2000 Hz"),
    Control("half", {"kind": "choice", "values": _HALVES, "send": {"on": "127"}}, ("on", "off")),
    Control(
        "rate",
        {"kind": "time", "range": ["0.1 Hz", "10 Hz"], "tolerance": "100 %"},
        ("0.1 Hz", "1 s"),
        ("1/8",),
    ),
    Control("horn", {"kind": "trigger", "codes": {"fire": "100"}}, ("now",)),
    Control("r\u00e9verb", {"kind": "switch", "codes": {"on": "0", "off": "127"}}, ("on", "off")),
    Control(
        "relay",
        {"kind": "choice", "program": "yes", "values": {"left": "5", "right": "6"}},
        ("left", "right"),
    ),
)
"""One of each sort; a drawn box has the first and some of the others."""


def box(dice: Dice, number: int) -> Box:
    """The box that the dice decide; the plainest is one switch."""
    programs = dice.often(70)
    repeat = dice.pick(("recalls", "recalls", "nothing", "toggles engage")) if programs else ""
    first = dice.pick(("0", "1"))
    controls = [_drawn(dice, n, c, programs) for n, c in enumerate(KINDS) if n == 0 or dice.often(35)]
    tree: Block = {"definition": f"box {number}"}
    if dice.often(30):
        tree["remark"] = dice.pick(REMARKS)
    if programs:
        settle = dice.pick(("0 ms", "35 ms", "0.2 s"))
        tree["programs"] = {"count": "8", "first": first, "settle": settle, "repeat": repeat}
    tree["controls"] = {c.name: c.keys for c in controls if not (programs and c.name == "relay")}
    controls = [c for c in controls if c.name in tree["controls"]]
    if dice.often(30):
        tree["crosspoint"] = {"out-a": {"cc": "40", "inputs": {"in-1": "0", "in-2": "1"}}}
        controls.append(Control("out-a", {}, ("in-1", "in-2")))
    if dice.often(30):
        tree["loops"] = {"cc": ["51", "52"]}
        controls += [Control(f"loop-{n}", {}, ("on", "off")) for n in (1, 2)]
    return Box(
        name=("gate-1", "echo", "h\u00e4ll", "4th box")[number],
        definition=("plain-gate", "two-tap echo", "h\u00e4ll", "4th")[number],
        tree=tree,
        controls=tuple(controls),
        patches=dict(zip(("slap", "cliff"), dice.pick((("1", "7"), ("7", "1"), ("2", "3"))), strict=True))
        if programs
        else {},
        whole=repeat not in ("", "recalls"),
        held=tuple(c.name for c in controls[1:] if not c.trigger and dice.often(15)),
        piezo=dice.often(20),
    )


def _drawn(dice: Dice, number: int, control: Control, programs: bool) -> Control:
    """The control with a CC number, and stored where the box has programs."""
    stored = programs and number > 0 and not control.trigger and dice.often(50)
    keys: Block = {**control.keys}
    if "program" not in keys:
        keys["cc"] = str(20 + number)
    if stored:
        keys["stored"] = "yes"
    return Control(control.name, keys, control.texts, control.notes, control.most, stored)
