"""Drawn whole shows: files of all four kinds that fit each other, most of them sound."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from hypothesis import strategies as st
from hypothesis.strategies import SearchStrategy

from tests.compile.drawn import Dice
from tests.fuzz.boxes import Control, Model, Tree, model
from tests.fuzz.songs import song
from tests.fuzz.written import written

BYTES = 700
"""Enough to decide everything about a show."""
SONGS = ("lantern", "Salt Stairs", "\u00e9bb")


@dataclass(frozen=True, slots=True)
class Box:
    """A device of the rig: a model, the names of its patches, what the player holds of it."""

    name: str
    model: Model
    patches: tuple[str, ...]
    held: frozenset[str]

    def line(self, dice: Dice, notes: bool = False, held: bool = False) -> tuple[str, str]:
        """A dotted line that sets one thing of the box; a thing in the player's hands only where `held`."""
        settable = [c for c in self.model.controls if not c.trigger and (held or c.name not in self.held)]
        if self.patches and dice.often(25):
            return f"{self.name}.patch", dice.pick(self.patches)
        control = dice.pick(settable)
        return f"{self.name}.{control.name}", dice.pick(control.texts + (control.notes if notes else ()))


def shows() -> SearchStrategy[dict[str, str]]:
    """The texts of a show by path."""
    return st.binary(min_size=BYTES, max_size=BYTES).map(lambda data: show(Dice(data)))


def show(dice: Dice) -> dict[str, str]:
    """The show that the dice decide."""
    boxes = [_box(dice, n) for n in range(dice.pick((1, 2, 3, 4)))]
    songs = SONGS[: dice.pick((1, 2, 3))]
    second = dice.pick(("", "like", "absent"))
    trees: dict[str, Tree] = {"show.yaml": _show(dice, songs, boxes, second)}
    for box in boxes:
        trees[f"definitions/{box.model.id}.yaml"] = box.model.tree
    trees["rigs/a-rig.yaml"] = _rig(dice, boxes, songs)
    if second == "like":
        trees["rigs/b-rig.yaml"] = {"rig": "B rig", "like": "a-rig", "home": dict([boxes[0].line(dice)])}
    elif second == "absent":
        trees["rigs/b-rig.yaml"] = _spare(dice, boxes)
    for name in songs:
        trees[f"{name}.yaml"] = song(dice, name, boxes)
    return {path: written(dice, tree) for path, tree in trees.items()}
