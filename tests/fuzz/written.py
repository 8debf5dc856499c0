"""A tree as YAML text, in one of the many ways that people write it."""

from __future__ import annotations

import json
import re

from tests.compile.drawn import Dice
from tests.fuzz.boxes import Block, Tree

_PLAIN = re.compile(r"[^\W_][\w/%. -]*[\w%]|[^\W_]|-[0-9][\w. ]*%?|-inf dB|\+[0-9]+")
"""Texts that mean themselves without quotes, in braces too."""


def written(dice: Dice, tree: Block) -> str:
    """The text of a file, whatever the dice make of breaks, indents, quotes, braces and comments."""
    step = dice.pick((2, 4, 3))
    rows = ["# drawn"] * dice.often(10) + _block(dice, tree, 0, step)
    text = "".join(row + "\n" for row in rows)
    if dice.often(10):
        text = text.replace("\n", "\r\n")
    if dice.often(10):
        text = text.rstrip()
    return "\ufeff" + text if dice.often(5) else text


def _block(dice: Dice, block: Block, depth: int, step: int) -> list[str]:
    rows: list[str] = []
    for key, value in block.items():
        head = " " * depth + _scalar(dice, key) + ":"
        if dice.often(3):
            rows.append("")
        if isinstance(value, dict) and value and dice.often(70 if depth == 0 else 30):
            rows += [head, *_block(dice, value, depth + step, step)]
        elif isinstance(value, list) and value and dice.often(20):
            rows += [head, *(" " * (depth + step) + "- " + flow(dice, item) for item in value)]
        else:
            rows.append(f"{head} {flow(dice, value)}" + " # so" * dice.often(3))
    return rows


def flow(dice: Dice, tree: Tree) -> str:
    """The tree on one line, in braces and brackets."""
    if isinstance(tree, dict):
        return (
            "{" + ", ".join(f"{_scalar(dice, key)}: {flow(dice, value)}" for key, value in tree.items()) + "}"
        )
    if isinstance(tree, list):
        return "[" + ", ".join(flow(dice, item) for item in tree) + "]"
    return _scalar(dice, tree)


def _scalar(dice: Dice, text: str) -> str:
    if _PLAIN.fullmatch(text) and not dice.often(5):
        return text
    if "'" not in text and dice.often(30):
        return f"'{text}'"
    return json.dumps(text, ensure_ascii=False)
