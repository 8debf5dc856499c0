"""Drawn whole shows: files of all four kinds that fit each other, with nothing wrong that is an error."""

from __future__ import annotations

from collections.abc import Sequence

from hypothesis import Phase
from hypothesis import strategies as st
from hypothesis.strategies import SearchStrategy

from tests.compile.drawn import Dice
from tests.fuzz.boxes import REMARKS, Block, Box, Tree, box
from tests.fuzz.songs import lines, song
from tests.fuzz.written import written

BYTES = 1500
"""Enough of them to decide everything about a show."""

AS_DRAWN = (Phase.explicit, Phase.generate)
"""A show that fails is shown as it was drawn: to shrink half a dozen files takes minutes."""

SONGS = ("lantern", "Salt Stairs", "\u00e9bb")
STANDING = ("silence", "changeover")

Files = dict[str, str]
"""The texts of a show by path."""


def shows() -> SearchStrategy[Files]:
    """Shows of up to four boxes, three songs and two rigs."""
    return st.binary(min_size=BYTES, max_size=BYTES).map(lambda data: show(Dice(data)))


def show(dice: Dice) -> Files:
    """The show that the dice decide."""
    boxes = [box(dice, n) for n in range(dice.pick((1, 2, 3, 4)))]
    songs = SONGS[: dice.pick((1, 2, 3))]
    spare = dice.pick(("", "like", "absent"))
    standing = dice.often(40)
    trees: dict[str, Block] = {f"definitions/{b.definition}.yaml": b.tree for b in boxes}
    trees["rigs/a-rig.yaml"] = _rig(dice, boxes, songs, standing)
    if spare == "like":
        trees["rigs/b-rig.yaml"] = {"rig": "B rig", "like": "a-rig", "hands": _hands(boxes)}
    if spare == "absent":
        trees["rigs/b-rig.yaml"] = _spare(dice, boxes, standing)
    trees |= {f"{name}.yaml": song(dice, name, boxes) for name in songs}
    trees["show.yaml"] = _show(dice, boxes, songs, bool(spare), standing)
    return {path: written(dice, tree) for path, tree in trees.items()}


def _show(dice: Dice, boxes: list[Box], songs: Sequence[str], spare: bool, standing: bool) -> Block:
    rigs: list[Tree] = ["a-rig", "b-rig"] if spare else ["a-rig"]
    setlist: list[Tree] = list(songs)
    if standing:
        setlist.insert(1, {"standing": "silence", "remark": dice.pick(REMARKS)})
    legs: Block = {"tour": {"rigs": rigs, "setlist": setlist}}
    if dice.often(40):
        change: Block = {
            songs[0]: {"base": lines(dice, boxes, {}), "scenes": {"verse": {"remark": "softer"}}}
        }
        legs["winter pier"] = {"rigs": ["a-rig"], "setlist": [songs[0]], "changes": change}
    return {"show": "Tidewrack", "rigs": rigs, "legs": legs}


def _rig(dice: Dice, boxes: list[Box], songs: Sequence[str], standing: bool) -> Block:
    """The main rig: every box on a channel of its own."""
    rig: Block = {"rig": "A rig"}
    if dice.often(30):
        rig["remark"] = dice.pick(REMARKS)
    rig["ports"] = {
        "rack": {"out": "rack", "speed": "din"},
        "floor": {"out": "floor", "in": "return", "speed": "usb"},
    }
    if dice.often(30):
        rig["controllers"] = {
            "board": {"port": "rack", "channel": "16", "sends": {"programs": "yes", "cc": ["64", "80-85"]}}
        }
    rig["devices"] = {b.name: _device(dice, n, b) for n, b in enumerate(boxes, 1)}
    sets: Block = dict([boxes[0].line(dice)]) if dice.often(50) else {}
    rig["instruments"] = {"mandola": {"tuning": "B standard", "pickups": ["piezo", "magnetic"], "sets": sets}}
    rig |= _names(dice, boxes, standing)
    rig["limits"] = {
        f"{b.name}.{c.name}": {"most": c.most} for b in boxes for c in b.controls if c.most and dice.often(30)
    }
    if dice.often(40):
        rig["changes"] = {songs[0]: {"scenes": {"verse": lines(dice, boxes, {})}}}
    return rig


def _spare(dice: Dice, boxes: list[Box], standing: bool) -> Block:
    """A rig with the first box alone; the others are done without, save one switch that is handed on."""
    first, *rest = boxes
    rig: Block = {"rig": "B rig", "ports": {"rack": {"out": "rack", "speed": "usb"}}}
    rig["devices"] = {first.name: _device(dice, 1, first) | {"port": "rack"}}
    rig["absent"] = {b.name: b.definition for b in rest}
    rig["instruments"] = {"mandola": {"pickups": ["piezo"]}}
    rig |= _names(dice, boxes, standing)
    vocabulary = rig["vocabulary"]
    assert isinstance(vocabulary, dict)
    vocabulary |= {b.name: "nothing" for b in rest}
    with_patches = [f"{b.name}.patch" for b in rest if b.patches]
    if len(with_patches) > 1 and dice.often(50):
        row: list[Tree] = ["slap", "cliff", {f"{first.name}.engage": "on"}]
        rig["joint"] = [{"of": list(with_patches[:2]), "rows": [row]}]
    elif rest:
        vocabulary[f"{rest[0].name}.engage"] = f"{first.name}.engage"
    return rig


def _device(dice: Dice, number: int, box: Box) -> Block:
    device: Block = {
        "port": dice.pick(("rack", "floor")),
        "channel": str(number),
        "definition": box.definition,
    }
    if box.patches:
        device["patches"] = {name: _patch(dice, box, at) for name, at in box.patches.items()}
    if box.piezo:
        device["pickup"] = "piezo"
    return device


def _patch(dice: Dice, box: Box, at: str) -> Tree:
    stores: Block = {
        c.name: dice.pick(c.texts) for c in box.controls if c.stored and (box.whole or dice.often(50))
    }
    return {"at": at, "stores": stores} if stores or dice.often(20) else at


def _names(dice: Dice, boxes: list[Box], standing: bool) -> Block:
    """Vocabulary, hands, home and standing scenes: alike on a rig that lacks some of the boxes."""
    names: Block = {"vocabulary": {f"{b.name} way": _words(dice, b) for b in boxes}}
    names["hands"] = _hands(boxes)
    home: Block = {f"{b.name}.{c.name}": dice.pick(c.texts) for b in boxes for c in b.free() if not c.stored}
    names["home"] = home | {f"{b.name}.patch": "slap" for b in boxes if b.patches}
    if standing:
        names["standing"] = {"silence": lines(dice, boxes, {}), "changeover": dice.pick(("silence",))}
    return names


def _hands(boxes: list[Box]) -> list[Tree]:
    return [f"{b.name}.{name}" for b in boxes for name in b.held]


def _words(dice: Dice, box: Box) -> Block:
    """`tight` and `loose`, each with lines of the box's own."""
    return {
        "tight": dict([box.line(dice)]),
        "loose": "nothing" if dice.often(20) else dict([box.line(dice), box.line(dice)]),
    }
