"""Drawn songs: scenes in every way of placing them, with every kind of line."""

from __future__ import annotations

from tests.compile.drawn import Dice
from tests.fuzz.boxes import REMARKS, Block, Box, Tree

SCENES = ("verse", "chorus", "verse 3", "1:05", "on")
PLACED = ("", "bars", "clock", "code")


def song(dice: Dice, title: str, boxes: list[Box]) -> Block:
    """A song's file."""
    placed = dice.pick(PLACED)
    held = [f"{box.name}.{control}" for box in boxes for control in box.held]
    own_hands = held if dice.often(30) else []
    tree: Block = {"song": title, "instrument": "mandola"}
    if dice.often(30):
        tree["remark"] = dice.pick(REMARKS)
    tree["tempo"] = _tempo(dice, placed)
    if dice.often(40):
        bars: list[Tree] = [{"at": "bar 1", "meter": "4/4"}, {"at": "bar 9", "meter": "6/8"}]
        tree["meter"] = dice.pick(("4/4", "7/8")) if dice.often(60) else bars
    if placed == "code":
        tree |= {"start": "1:00:00:00", "rate": dice.pick(("24", "25", "30 drop", "30"))}
    if own_hands:
        tree["hands"] = list(own_hands)
    if dice.often(50):
        tree["base"] = lines(dice, boxes, {})
    names = SCENES[: dice.pick((1, 2, 3, 4, 5))]
    tree["scenes"] = {name: _scene(dice, names, n, placed, boxes, own_hands) for n, name in enumerate(names)}
    if not placed and dice.often(40):
        tree["order"] = [dice.pick(names) for _ in range(dice.pick((1, 2, 4)))]
    return tree


def _tempo(dice: Dice, placed: str) -> Tree:
    if placed and dice.often(40):
        return [{"at": "bar 1", "bpm": "96"}, {"at": "bar 9", "bpm": "60.5", "beat": "1/4 dotted"}]
    return dice.pick(("120", "96", "60.5"))


def _scene(
    dice: Dice, names: tuple[str, ...], number: int, placed: str, boxes: list[Box], hands: list[str]
) -> Tree:
    """A scene's own keys and lines, or the name of a scene that it is like."""
    if number and not placed and dice.often(10):
        return dice.pick(names[:number])
    scene: Block = {}
    if placed:
        numbers = [number, number + len(names)] if dice.often(30) else [number]
        at: list[Tree] = [_place(placed, n) for n in numbers]
        scene["at"] = at if len(at) > 1 or dice.often(20) else at[0]
    elif dice.often(20):
        scene["tempo"] = "72"
    if number and dice.often(50):
        like = dice.pick(names[:number])
        scene["like"] = [like] if dice.often(30) else like
    if dice.often(20):
        scene["remark"] = dice.pick(REMARKS)
    scene |= lines(dice, boxes, {}, notes=True)
    if hands and dice.often(40):
        scene[dice.pick(hands)] = "leave"
    for box in boxes:
        if any(control.trigger for control in box.controls) and dice.often(30):
            scene[f"{box.name}.horn"] = "now"
    return scene


def _place(placed: str, number: int) -> str:
    if placed == "bars":
        return f"bar {1 + 4 * number}" + (" beat 2" if number % 3 == 2 else "")
    minutes, seconds = divmod(7 + 13 * number, 60)
    if placed == "clock":
        return f"{minutes}:{seconds:02d}" + (".25" if number % 2 else "")
    return f"1:{minutes:02d}:{seconds:02d}:05"


def lines(dice: Dice, boxes: list[Box], block: Block, notes: bool = False) -> Block:
    """A block of lines: words, outright lines, and boxes named whole."""
    for box in boxes:
        if dice.often(40):
            block[f"{box.name} way"] = dice.pick(("tight", "loose"))
        if dice.often(30):
            block[box.name] = _whole(dice, box, notes)
        if dice.often(40):
            key, value = box.line(dice, notes)
            block[key] = value
    return block


def _whole(dice: Dice, box: Box, notes: bool) -> Tree:
    """`on`, `off`, a patch, or a block of the box's own names."""
    if dice.often(50):
        return dice.pick(("on", "off", *box.patches))
    inside: Block = {}
    for control in box.free():
        if dice.often(40):
            inside[control.name] = dice.pick(control.texts + (control.notes if notes else ()))
    if "loop-1" in inside:
        inside = {"loops": ["1", "2"]}
    if box.patches and dice.often(30):
        inside["patch"] = dice.pick(list(box.patches))
    stored = [c.name for c in box.free() if c.stored]
    if stored and dice.often(20):
        inside[dice.pick(stored)] = "as stored"
    return inside
