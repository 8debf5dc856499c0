"""Boxes for tests: a definition as text, on channel 1 of one port, ready to listen."""

from __future__ import annotations

from switchmatrix.bind.definitions import bind_definition
from switchmatrix.bind.rig import bind_rig
from switchmatrix.diagnostics.diagnostic import Diagnostic
from switchmatrix.diagnostics.lines import render
from switchmatrix.midi.numbers import Address
from switchmatrix.model.rig import Rig
from switchmatrix.simulate.receiver import Receiver, Told, receiver
from switchmatrix.simulate.standing import UNKNOWN, DeviceNow, Halves, Standing, Unknown
from switchmatrix.simulate.stream import heard
from switchmatrix.source import SourceFile
from switchmatrix.syntax.nodes import Node
from switchmatrix.syntax.reader import read
from switchmatrix.syntax.shape import check_shape

PROGRAMS = "programs: {count: 128, first: 0, settle: 1 ms, repeat: recalls}"


def rig(devices: str, **definitions: str) -> Rig:
    """A rig of the ports `rack` and `shelf`, with `devices` as lines of YAML and definitions by id.

    ValueError for a text with anything wrong in it.
    """
    found: list[Diagnostic] = []
    bound = {
        id: bind_definition(id, _root("definition", f"definition: {id}\n{text}\n", found), found)
        for id, text in definitions.items()
    }
    lines = "".join(f"  {line}\n" for line in devices.strip().splitlines())
    ports = "{rack: {out: rack, speed: din}, shelf: {out: shelf, speed: din}}"
    root = _root("rig", f"rig: A rig\nports: {ports}\ndevices:\n{lines}", found)
    made = bind_rig("a-rig", root, bound, {}, found)
    if made is None or found:
        raise ValueError(render(found))
    return made.rig


def _root(kind: str, text: str, found: list[Diagnostic]) -> Node:
    node, wrong = read(SourceFile(f"{kind}s/it.yaml", text))
    node, misfits = check_shape(node, kind)
    found += wrong + misfits
    return node


def box(definition: str, device: str = "channel: 1", halves: Halves = Halves.ZEROED) -> Receiver:
    """A device called `box` of that definition; `device` are the rest of its own keys."""
    made = rig(f"box: {{port: rack, definition: box, {device}}}", box=definition)
    return receiver(made.devices[0], halves)


def start(
    one: Receiver,
    *controls: Standing,
    patch: Address | Unknown = UNKNOWN,
    bank: int | Unknown = UNKNOWN,
) -> DeviceNow:
    """The box with its controls where the test says; unknown where it says nothing."""
    return one.unit.start(patch, bank, controls or None)


def now(one: Receiver, sent: str, at: DeviceNow | None = None) -> DeviceNow:
    """Where the box stands when it has heard the bytes, written as hex."""
    return one.hear(start(one) if at is None else at, heard(bytes.fromhex(sent)))


def controls(one: Receiver, sent: str, *before: Standing) -> tuple[Standing, ...]:
    """Where its controls stand then, from where the test says."""
    return now(one, sent, start(one, *before)).controls


def told(one: Receiver, sent: str, at: DeviceNow | None = None) -> tuple[Told, ...]:
    """What the box did with each message."""
    return one.told(start(one) if at is None else at, heard(bytes.fromhex(sent)))[1]


def moved(one: Receiver, sent: str, *before: Standing) -> list[tuple[str, ...]]:
    """What each message moved."""
    return [one.moved for one in told(one, sent, start(one, *before))]


def program(number: int, bank: int | None = None) -> Address:
    """An address as the wire has it."""
    return Address(bank, number)  # type: ignore[arg-type]
