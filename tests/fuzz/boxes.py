"""Drawn definitions: what a model of device understands, and the texts that its controls take."""

from __future__ import annotations

from dataclasses import dataclass

from tests.compile.drawn import Dice

Tree = str | list["Tree"] | dict[str, "Tree"]
"""What a file says, before it is written as YAML."""


@dataclass(frozen=True, slots=True)
class Control:
    """A control: its keys, the texts that any line may give it, and note values where it takes them."""

    name: str
    keys: dict[str, Tree]
    texts: tuple[str, ...]
    notes: tuple[str, ...] = ()
    stored: bool = False

    @property
    def trigger(self) -> bool:
        """Whether it has no state."""
        return self.keys.get("kind") == "trigger"


@dataclass(frozen=True, slots=True)
class Model:
    """A definition: its id, its file, its controls (of crosspoint and loops too), its patches' numbers."""

    id: str
    tree: dict[str, Tree]
    controls: tuple[Control, ...]
    numbers: tuple[int, ...]
    complete: bool
    """Whether its patches must list all that they store, since a repeat may not recall them."""


def _level(*keys: tuple[str, Tree]) -> dict[str, Tree]:
    return {"kind": "level", **dict(keys)}


KINDS: tuple[Control, ...] = (
    Control("engage", {"kind": "switch", "main": "yes"}, ("on", "off")),
    Control("mix", _level(("range", ["0 %", "100 %"]), ("codes", ["0", "100"])), ("0 %", "35 %", "100 %")),
    Control("time", {"kind": "time", "range": ["0 ms", "2000 ms"]}, ("0 ms", "0.5 s", "2 Hz"), ("1/8", "1/4 triplet")),
    Control("mode", {"kind": "choice", "values": {"tape": "0", "on": "1", "2": "2"}}, ("tape", "on", "2")),
    Control("swell", _level(("range", ["-60 dB", "6 dB"]), ("codes", ["1", "67"]), ("bottom", "0")), ("-inf dB", "0 dB")),
    Control("pitch", _level(("range", ["-12", "12"]), ("centre", "64"), ("tolerance", "100 %")), ("-12", "0", "+7")),
    Control("tone", _level(("points", [["0", "20 Hz"], ["64", "200 Hz"], ["127", "2000 Hz"]])), ("20 Hz", "200 Hz")),
    Control("gate", {"kind": "choice", "values": {"off": "0-63", "on": "64-127"}, "send": {"on": "127"}}, ("on", "off")),
    Control("rate", {"kind": "time", "range": ["0.1 Hz", "10 Hz"], "tolerance": "100 %"}, ("0.1 Hz", "500 ms"), ("1/8",)),
    Control("horn", {"kind": "trigger", "codes": {"fire": "100"}}, ("now",)),
    Control("r\u00e9verb", {"kind": "switch", "codes": {"on": "0", "off": "127"}}, ("on", "off")),
)
"""One of each kind; a drawn model has some of them."""


def model(dice: Dice, number: int) -> Model:
    """A drawn definition; the plainest is one switch."""
    id = ("plain-gate", "two-tap echo", "h\u00e4ll", "4th box")[number]
    programs = dice.often(70)
    repeat = dice.pick(("recalls", "nothing", "toggles engage")) if programs else ""
    controls = [_drawn(dice, n, control, programs) for n, control in enumerate(KINDS) if n == 0 or dice.often(40)]
    tree: dict[str, Tree] = {"definition": f"box {number}"}
    if dice.often(30):
        tree["remark"] = "from the chart: page 4, row 2 # as printed"
    if programs:
        settle = dice.pick(("0 ms", "35 ms", "0.2 s"))
        tree["programs"] = {"count": "8", "first": dice.pick(("0", "1")), "settle": settle, "repeat": repeat}
    tree["controls"] = {control.name: control.keys for control in controls}
    if dice.often(30):
        tree["crosspoint"] = {"out-a": {"cc": "40", "inputs": {"in-1": "0", "in-2": "1"}}}
        controls.append(Control("out-a", {}, ("in-1", "in-2")))
    if dice.often(30):
        tree["loops"] = {"cc": ["51", "52"]}
        controls += [Control(f"loop-{n}", {}, ("on", "off")) for n in (1, 2)]
    numbers = tuple(dice.pick(((1, 7), (7, 1), (2, 3)))) if programs else ()
    return Model(id, tree, tuple(controls), numbers, repeat not in ("", "recalls"))


def _drawn(dice: Dice, number: int, control: Control, programs: bool) -> Control:
    """The control with a CC number, and stored where the box has programs."""
    stored = programs and not control.trigger and control.name != "engage" and dice.often(50)
    keys: dict[str, Tree] = {**control.keys, "cc": str(20 + number)}
    if stored:
        keys["stored"] = "yes"
    return Control(control.name, keys, control.texts, control.notes, stored)
