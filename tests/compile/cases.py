"""Transitions in small, as messages without a show: what a schedule is made of."""

from __future__ import annotations

from dataclasses import dataclass, replace

from switchmatrix.compile.step import Role, Step
from switchmatrix.definition.definition import Definition
from switchmatrix.definition.values import Word
from switchmatrix.midi.numbers import ChannelNumber
from switchmatrix.model.rig import Device, Mute, Port, Rig
from switchmatrix.model.settings import Block, Coded, Target
from switchmatrix.model.song import BoundSong, Song
from switchmatrix.source import whole_file
from tests.compile.drawn import Dice

HERE = whole_file("rigs/a-rig.yaml")
NOTHING: Block = ()


@dataclass(frozen=True, slots=True)
class Case:
    """A rig's ports and mutes, and the messages of a transition in their order."""

    rig: Rig
    steps: tuple[Step, ...]

    def shown(self) -> list[str]:
        """The messages, for who reads a failure."""
        return [
            f"{s.device} on {s.port}, channel {s.channel}: {s.role.value}, {len(s.data)} bytes, settle "
            f"{s.settle_us}, gap {s.gap_us}, part {s.part} of {s.parts}, moves {sorted(s.moves)}"
            for s in self.steps
        ] + [f"mute: {mute}" for mute in self.rig.mutes]


def rig_of(speeds: dict[str, str], mutes: tuple[Mute, ...] = ()) -> Rig:
    """A rig of ports and mutes alone."""
    ports = tuple(Port(name, name, None, speed == "usb", HERE) for name, speed in speeds.items())
    standing = BoundSong(Song("standing", "", None, None, (), (), None, (), HERE), NOTHING, {}, frozenset())
    nobody: frozenset[Target] = frozenset()
    return Rig(
        *(
            "a-rig",
            "A rig",
            ports,
            (),
            (),
            (),
            (),
            (),
            {},
            (),
            nobody,
            nobody,
            NOTHING,
            {},
            standing,
            {},
            HERE,
        ),
        mutes=mutes,
    )


def mute(covers: list[str], holds: list[str], before_us: int = 0, after_us: int = 0) -> Mute:
    """`covers` and `holds` are written `device.control`."""
    on = Coded(127, Word("on"), Word("on"))
    targets = [Target(*name.split(".")) for name in covers + holds]
    held = tuple((target, on) for target in targets[len(covers) :])
    return Mute(tuple(targets[: len(covers)]), held, before_us, after_us, HERE)


def unit(
    device: str,
    *sizes: int,
    port: str = "rack",
    channel: int = 1,
    settle_us: int = 0,
    gap_us: int = 0,
    role: Role = Role.SET,
    moves: str = "mix",
) -> list[Step]:
    """A unit of messages, of so many bytes each: the device settles after the last."""
    moved = frozenset() if role is Role.TRIGGER else frozenset(moves.split())
    return [
        Step(
            device,
            port,
            channel,
            bytes([0xB0 | channel - 1, *[n] * (size - 1)]),
            f"sets {moves}",
            settle_us if n == len(sizes) else 0,
            HERE,
            "home",
            moves,
            gap_us=gap_us,
            part=n,
            parts=len(sizes),
            role=role,
            moves=moved,
        )
        for n, size in enumerate(sizes, 1)
    ]


NAMES = ("alder", "birch", "cedar", "dogwood", "elder", "fir", "gorse", "hazel")
SETTLES = (0, 0, 700, 1000, 3000, 5000, 35000)
AROUND = ((0, 0), (5000, 10000), (1000, 0), (0, 2000))
RECALLS: tuple[tuple[int, ...], ...] = ((2,), (2,), (3, 2), (3, 3, 2))
SETS: tuple[tuple[int, ...], ...] = ((3,), (3,), (3,), (3, 3), (3, 3, 3), (9,))


@dataclass(frozen=True, slots=True)
class _Box:
    """A device of a drawn case."""

    name: str
    port: str
    channel: int
    gap_us: int

    def unit(self, sizes: tuple[int, ...], settle_us: int, moves: str, role: Role = Role.SET) -> list[Step]:
        """A unit to this device."""
        return unit(
            self.name,
            *sizes,
            port=self.port,
            channel=self.channel,
            settle_us=settle_us,
            gap_us=self.gap_us,
            role=role,
            moves=moves,
        )


def drawn(dice: Dice, devices: int = 3, most: int = 6) -> Case:
    """A transition of so many devices on two ports, of `most` messages or fewer; sometimes with a mute.

    In the order of the language: mute on, recalls, other controls, mute off, triggers.
    """
    speeds = {"rack": dice.pick(("din", "din", "din", "usb")), "floor": dice.pick(("din", "usb"))}
    boxes = [_box(dice, n) for n in range(devices)]
    mutes = (_mute(dice, boxes),) if dice.pick((False, False, True)) else ()
    moving = boxes[len(mutes) :]
    recalls = [box for box in moving if dice.pick((True, False))]
    units = [box.unit(dice.pick(RECALLS), dice.pick(SETTLES), "patch tone", Role.RECALL) for box in recalls]
    for _ in range(2):
        sets = [box for box in moving if dice.pick((True, False, True))]
        units += [box.unit(dice.pick(SETS), dice.pick(SETTLES), "mix") for box in sets]
    units = _fitting(units, most - 2 * len(mutes))
    if mutes:
        settle_us = dice.pick(SETTLES)
        on = boxes[0].unit((3,), settle_us, "out", Role.MUTE_ON)
        units = [on, *units, boxes[0].unit((3,), settle_us, "out", Role.MUTE_OFF)]
    if dice.pick((False, False, False, True)):
        units.append(dice.pick(boxes).unit((3,), 0, "", Role.TRIGGER))
    return Case(rig_of(speeds, mutes), tuple(step for one in _fitting(units, most) for step in one))


def _box(dice: Dice, number: int) -> _Box:
    """Now and then two share a channel of a port."""
    port, channel = dice.pick(("rack", "rack", "floor")), dice.pick((number + 1, number + 1, 1))
    return _Box(NAMES[number], port, channel, dice.pick((0, 0, 0, 2000)))


def _mute(dice: Dice, boxes: list[_Box]) -> Mute:
    """The first device is held while something of one or two others moves."""
    covers = [f"{box.name}.{dice.pick(('patch', 'mix'))}" for box in boxes[1 : dice.pick((2, 3))]]
    return mute(covers, [f"{boxes[0].name}.out"], *dice.pick(AROUND))


def _fitting(units: list[list[Step]], most: int) -> list[list[Step]]:
    """The units, but those that would make it more messages than `most`."""
    out: list[list[Step]] = []
    for one in units:
        if sum(map(len, out)) + len(one) <= most:
            out.append(one)
    return out


def with_devices(rig: Rig, *names: str) -> Rig:
    """The rig with devices of these names, in that order: a file's tracks."""
    box, one = Definition("box", "box", None, (), None, frozenset(), HERE), ChannelNumber(1)
    devices = (Device(name, rig.ports[0].name, one, box, (), None, frozenset(), HERE) for name in names)
    return replace(rig, devices=tuple(devices))
