"""Feet: which messages of a floor controller step through a rehearsal."""

from __future__ import annotations

import re

from switchmatrix.bind.devices import bind_port
from switchmatrix.bind.fields import Fields
from switchmatrix.bind.pace import wait_us
from switchmatrix.diagnostics import names
from switchmatrix.diagnostics.diagnostic import Diagnostic, Related
from switchmatrix.diagnostics.nearest import did_you_mean
from switchmatrix.midi.numbers import ChannelNumber, wire_program
from switchmatrix.model.rig import Feet, Pedal, PedalStep, Tread
from switchmatrix.syntax.nodes import Mapping, Scalar

REST_US = 250_000
"""Time between two presses of one pedal, where the file says none: nobody steps faster on purpose."""

LEAST_CC, LEAST_VELOCITY = 64, 1
"""A pedal is down from here on, where the file says nothing.

Switches are on from 64 (MIDI 1.0 Detailed Specification 4.2.1, Table III note); velocity 0 lets a key go.
"""

_BOUNDS = {Tread.CC: (0, 119), Tread.NOTE: (0, 127), Tread.PROGRAM: (1, 128)}
_SCENE = re.compile(r"scene ([0-9]{1,3})")


def bind_feet(fields: Fields, found: list[Diagnostic]) -> Feet | None:
    """The section `feet`; a pedal with something wrong in it is left out."""
    feet = fields.block("feet")
    if feet is None:
        return None
    pedals: list[Pedal] = []
    for key, node in feet.node.entries:
        if key.text == "rest" or not isinstance(node, Mapping):
            continue
        does = _does(key, found)
        pedal = _pedal(key, does, Fields(node, found), fields) if does is not None else None
        if pedal is not None and not _taken(key, pedal, pedals, found):
            pedals.append(pedal)
    rest = wait_us(feet, "rest") if feet.has("rest") else REST_US
    return Feet(tuple(pedals), REST_US if rest is None else rest, feet.span)


def _does(key: Scalar, found: list[Diagnostic]) -> PedalStep | int | None:
    """What the pedal's name says that it does."""
    scene = _SCENE.fullmatch(key.text)
    if scene is not None and int(scene[1]) > 0:
        return int(scene[1])
    steps = {step.value: step for step in PedalStep}
    if key.text not in steps:
        message = f"`{key.text}` is nothing that a pedal can do"
        help = did_you_mean(key.text, [*steps, "scene 1"], "pedals")
        found.append(names.UNKNOWN_KEY.at(key.span, message, help))
    return steps.get(key.text)


def _pedal(key: Scalar, does: PedalStep | int, pedal: Fields, rig: Fields) -> Pedal | None:
    port, channel = bind_port(pedal, rig), pedal.whole("channel", 1, 16)
    given = [kind for kind in Tread if pedal.has(kind.value)]
    if len(given) != 1:
        what = "none of" if not given else "more than one of"
        message = f"`{key.text}` has {what} `cc`, `note` and `program`"
        pedal.found.append(names.BAD_VALUE.at(key.span, message, "name the one message that the pedal sends"))
        return None
    kind = given[0]
    number = pedal.whole(kind.value, *_BOUNDS[kind])
    least = _least(pedal, kind)
    if port is None or channel is None or number is None or least is None or not _heard(pedal, port, rig):
        return None
    wire = wire_program(number) if kind is Tread.PROGRAM else number
    releases = kind is not Tread.PROGRAM and not pedal.has("release")
    return Pedal(does, port, ChannelNumber(channel), kind, wire, least, releases, key.span)


def _least(pedal: Fields, kind: Tread) -> int | None:
    """From which value on the pedal is down."""
    scalar = pedal.scalar("from")
    if scalar is None:
        return None if pedal.broken("from") else LEAST_CC if kind is Tread.CC else LEAST_VELOCITY
    if kind is Tread.PROGRAM:
        message = "a program change carries no value, so there is no `from`"
        pedal.found.append(names.BAD_VALUE.at(scalar.span, message, "take `from` out"))
        return None
    return pedal.whole("from", 1, 127)


def _heard(pedal: Fields, port: str, rig: Fields) -> bool:
    """Whether the port has an input, which is where a pedal is heard."""
    node = next((node for key, node in rig.each("ports") if key.text == port), None)
    scalar = pedal.scalar("port")
    if scalar is None or not isinstance(node, Mapping) or node.get("in") is not None:
        return True
    message = f"the port `{port}` has no `in`, so no pedal is heard on it"
    pedal.found.append(names.BAD_VALUE.at(scalar.span, message, "give the port its `in`, or name another"))
    return False


def _taken(key: Scalar, pedal: Pedal, others: list[Pedal], found: list[Diagnostic]) -> bool:
    """Whether another pedal sends the same message."""
    mine = (pedal.port, pedal.channel, pedal.kind, pedal.number)
    other = next((p for p in others if (p.port, p.channel, p.kind, p.number) == mine), None)
    if other is None:
        return False
    message = f"`{key.text}` is stepped on by a message that does something else already"
    related = (Related(other.span, "the other one"),)
    found.append(names.BAD_VALUE.at(key.span, message, "give each its own message", related))
    return True
