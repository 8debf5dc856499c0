"""Choices that reload other controls: which ones, and that no circle comes of it."""

from __future__ import annotations

from dataclasses import replace

from switchmatrix.bind.fields import Fields, scalars
from switchmatrix.bind.values import hazard
from switchmatrix.definition.controls import TRIGGER, Control
from switchmatrix.diagnostics import names
from switchmatrix.diagnostics.nearest import did_you_mean
from switchmatrix.syntax.nodes import Mapping, Scalar


def with_resets(fields: Fields, controls: list[Control], broken: set[str]) -> list[Control]:
    """The controls, each with the controls that setting it reloads."""
    known = {c.name: c for c in controls if c.kind != TRIGGER}
    given: dict[str, tuple[Scalar, ...]] = {}
    for key, node in fields.each("controls"):
        if isinstance(node, Mapping) and key.text in known:
            given[key.text] = scalars(node.get("resets"))
    resets: dict[str, tuple[str, ...]] = {}
    for owner, named in given.items():
        sound = []
        for scalar in named:
            if scalar.text == owner or scalar.text not in known:
                if scalar.text not in broken:
                    message = (
                        f"`{owner}` resets `{scalar.text}`, which is no other control of this definition"
                    )
                    help = did_you_mean(scalar.text, [n for n in known if n != owner], "controls")
                    fields.found.append(names.UNKNOWN_NAME.at(scalar.span, message, help))
                continue
            if (danger := known[scalar.text].hazard) is not None:
                fields.found.append(hazard(f"`{scalar.text}`, which `{owner}` resets,", danger, scalar.span))
            if known[scalar.text].writes:
                message = f"`{owner}` resets `{scalar.text}`, which writes the device's memory"
                help = "take it out: nothing that writes memory is ever moved"
                fields.found.append(names.WRITES_MEMORY.at(scalar.span, message, help))
            sound.append(scalar.text)
        resets[owner] = tuple(dict.fromkeys(sound))
    for owner in resets:
        if owner in _below(owner, resets):
            message = f"`{owner}` resets itself, through what it resets"
            help = "a choice goes before what it resets, so there can be no circle: take one name out"
            fields.found.append(names.RESET_CIRCLE.at(known[owner].span, message, help))
            resets[owner] = ()
    return [replace(c, resets=resets.get(c.name, ())) for c in controls]


def _below(owner: str, resets: dict[str, tuple[str, ...]]) -> set[str]:
    """All that a control resets, and what those reset."""
    below: set[str] = set()
    waiting = list(resets[owner])
    while waiting:
        at = waiting.pop()
        if at not in below:
            below.add(at)
            waiting += resets.get(at, ())
    return below
