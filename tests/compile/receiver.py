"""A little receiver: boxes that hear bytes on their ports, each with a memory that nobody has seen.

It reads bytes by itself and shares nothing with the compiler but the text of the show.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from random import Random

from tests.compile.shows import PATCH, Control, Device, Meaning, Show, meaning

BYTE_US = {"din": 320, "usb": 0}
LONG_AGO = -(10**12)

Sent = tuple[str, bytes, int]
"""A message on the wire: its port, its bytes, the microsecond of its first byte."""

Effect = tuple[frozenset[str], int]
"""What a message moves, and how many milliseconds that takes."""

NOTHING: Effect = (frozenset(), 0)


@dataclass(frozen=True, slots=True)
class Habits:
    """What nobody knows of a box.

    `also_recalls` where a repeat that flips a switch loads the program again besides, and `flips_last`
    where it does so before it flips; `zeroes` where an upper half sets its lower half to zero; `reloads`
    is what a control comes to when a choice resets it.
    """

    also_recalls: bool
    flips_last: bool
    zeroes: bool
    reloads: Mapping[str, int]


@dataclass(slots=True)
class Box:
    """A device as it stands on stage.

    `memory` holds for each program what it stores. `bank` and `number` are what bank select and the
    parameter's number last said, upper half first; `registered` where that number was an RPN.
    """

    device: Device
    program: int
    codes: dict[str, int]
    memory: dict[int, dict[str, int]]
    habits: Habits
    bank: tuple[int, int] = (0, 0)
    number: tuple[int, int] = (127, 127)
    registered: bool = False
    busy_until: int = 0

    def hear(self, message: bytes) -> Effect | None:
        """Act on a message of the port; None where it is none of the box's business."""
        status, *data = message
        if status & 0x0F != self.device.channel - 1:
            return None
        if status & 0xF0 == 0xC0:
            return self._program(data[0])
        number, value = data
        if number in (0, 32):
            return self._select(number, value) if self.device.bank is not None else None
        if number in (6, 38, 98, 99, 100, 101):
            return self._parameter(number, value) if any(c.nrpn for c in self.device.controls) else None
        for control in self.device.controls:
            if number == control.cc and control.lsb is not None:
                return self.put(control, self._upper(control, value))
            if number == control.cc:
                return self._take(control, value)
            if number == control.lsb:
                return self.put(control, self.codes[control.name] & ~0x7F | value)
        return None

    def _upper(self, control: Control, value: int) -> int:
        return value << 7 | (0 if self.habits.zeroes else self.codes[control.name] & 0x7F)

    def _take(self, control: Control, value: int) -> Effect:
        """A whole code; a toggle is flipped by a press, and a release does nothing."""
        if not control.flips:
            return self.put(control, value)
        return self.put(control, 1 - self.codes[control.name]) if value == 127 else NOTHING

    def put(self, control: Control, code: int) -> Effect:
        """The control stands there, and what it resets is reloaded."""
        below = self.device.below(control.name)
        self.codes[control.name] = code
        self.codes.update({name: self.habits.reloads[name] for name in below})
        return frozenset({control.name, *below}), control.settle_ms

    def _select(self, number: int, value: int) -> Effect:
        upper, lower = self.bank
        self.bank = (value, 0 if self.habits.zeroes else lower) if number == 0 else (upper, value)
        return NOTHING

    def _parameter(self, number: int, value: int) -> Effect:
        """Half of a parameter's number, or its data."""
        if number in (6, 38):
            return self._data(number, value)
        self.registered = number in (100, 101)
        upper, lower = self.number
        self.number = (value, lower) if number in (99, 101) else (upper, value)
        return NOTHING

    def _data(self, number: int, value: int) -> Effect:
        control = next((c for c in self.device.controls if c.nrpn == self.number), None)
        if control is None or self.registered:
            return NOTHING
        if control.bits == 7:
            return self._take(control, value) if number == 6 else NOTHING
        if number == 6:
            return self.put(control, self._upper(control, value))
        return self.put(control, self.codes[control.name] & ~0x7F | value)

    def chosen(self) -> int | None:
        """The bank in which the next program is looked up; None without bank select."""
        upper, lower = self.bank
        return {None: None, "cc0": upper, "cc32": lower, "both": upper << 7 | lower}[self.device.bank]

    def _program(self, number: int) -> Effect | None:
        bank = self.chosen()
        for control in self.device.controls:
            if control.carried and control.bank == bank and number in dict(control.words).values():
                return self.put(control, number)
        at = number if bank is None else bank * self.device.bank_size + number
        if at >= self.device.count or (bank is not None and number >= self.device.bank_size):
            return None
        return self.call(at)

    def call(self, at: int) -> Effect:
        """The program, called over MIDI or by foot."""
        repeat = self.device.repeat if at == self.program else "recalls"
        self.program = at
        moved: set[str] = set()
        flipped = repeat.removeprefix("toggles ") if repeat.startswith("toggles") else None
        if flipped is not None and not self.habits.flips_last:
            self._flip(flipped)
        if repeat == "recalls" or (flipped is not None and self.habits.also_recalls):
            self.codes.update(self.memory[at])
            moved |= {PATCH, *self.memory[at]}
        if flipped is not None:
            moved |= {flipped, PATCH}
            if self.habits.flips_last:
                self._flip(flipped)
        return frozenset(moved), self.device.settle_ms

    def _flip(self, name: str) -> None:
        codes = dict(self.device.control(name).words)
        self.codes[name] = codes["off"] if self.codes[name] == codes["on"] else codes["on"]


def messages(data: bytes) -> Iterator[bytes]:
    """The channel messages in the bytes of a wire; ValueError for any other byte."""
    at = 0
    while at < len(data):
        size = {0xB0: 3, 0xC0: 2}.get(data[at] & 0xF0)
        message = data[at : at + (size or 0)]
        if size is None or len(message) != size or any(byte > 0x7F for byte in message[1:]):
            raise ValueError(f"no message: {data[at:].hex(' ')}")
        yield message
        at += size


def any_code(control: Control, rng: Random) -> int:
    """A code that the control may stand at."""
    if control.words:
        return rng.choice([code for _, code in control.words])
    return rng.choice((0, 1, 127, 128, 129, 256, 16383) if control.wide else (0, 1, 2, 64, 127))


def found_box(device: Device, rng: Random) -> Box:
    """The box as it may be found: its memory is what the patches are said to store, the rest is anything.

    A toggle stands as it powers up: the tool has said to see to it.
    """
    memory = {
        program: {c.name: any_code(c, rng) for c in device.controls if c.stored} | device.listed(program)
        for program in range(device.count)
    }
    codes = {c.name: any_code(c, rng) for c in device.controls}
    codes |= {c.name: c.code(c.powers_up) for c in device.controls if c.powers_up is not None}
    program = rng.randrange(device.count) if device.count else 0
    reloads = {c.name: any_code(c, rng) for c in device.controls}
    return Box(
        device,
        program,
        codes,
        memory,
        Habits(rng.random() < 0.5, rng.random() < 0.5, rng.random() < 0.5, reloads),
        bank=(rng.choice((0, 0, 1, 5)), rng.choice((0, 1, 1, 5))),
        number=(rng.choice((0, 1, 2)), 1),
    )


@dataclass(slots=True)
class Held:
    """A control that some mute holds: since when it has stood where the mute wants it, how long it must."""

    since: int = LONG_AGO
    until: int = LONG_AGO


@dataclass(slots=True)
class Stage:
    """All boxes of a show, the wires to them, and people who move what is theirs to move.

    `faults` is what moved while its mute did not hold, and what a mute let go of too early.
    """

    show: Show
    boxes: list[Box]
    rng: Random
    wires: dict[str, int] = field(default_factory=dict)
    held: dict[tuple[str, str], Held] = field(default_factory=dict)
    faults: list[str] = field(default_factory=list)

    def hear(self, port: str, data: bytes, starts_us: int = 0) -> None:
        """Bytes that start at a moment: ValueError on a wire in use; a box that settles hears nothing."""
        if starts_us < self.wires.get(port, 0):
            raise ValueError(f"two messages at once on {port}")
        ends = starts_us + BYTE_US[dict(self.show.speeds)[port]] * len(data)
        self.wires[port] = ends
        for message in messages(data):
            for box in self.boxes:
                if box.device.port == port and box.busy_until <= starts_us:
                    stood = dict(box.codes)
                    effect = box.hear(message)
                    if effect is not None:
                        moved, settle_ms = effect
                        box.busy_until = ends + max(settle_ms, box.device.gap_ms) * 1000
                        self._judge(box, stood, moved, starts_us, ends + settle_ms * 1000)

    def _judge(
        self, box: Box, stood: Mapping[str, int], moved: frozenset[str], starts: int, lands: int
    ) -> None:
        """Hold what a message moved against the mutes."""
        for mute in self.show.mutes:
            if not any(name == box.device.name and control in moved for name, control in mute.covers):
                continue
            for target, text in mute.holds:
                held = self.held.setdefault(target, Held())
                if not self._stands(target, text) or held.since + mute.before_ms * 1000 > starts:
                    self.faults.append(
                        f"{sorted(moved)} of {box.device.name} moves, and {target} is not held"
                    )
                held.until = max(held.until, lands + mute.after_ms * 1000)
        for mute in self.show.mutes:
            for target, text in mute.holds:
                if target[0] == box.device.name and target[1] in moved:
                    self._moved(target, box.device.control(target[1]).code(text), stood, starts, lands)

    def _moved(
        self,
        target: tuple[str, str],
        code: int,
        stood: Mapping[str, int],
        starts: int,
        lands: int,
    ) -> None:
        """A control that a mute holds has been set."""
        held = self.held.setdefault(target, Held())
        if stood[target[1]] != code:
            held.since = lands
        elif not self._stands_at(target, code) and starts < held.until:
            self.faults.append(f"{target} is let go {held.until - starts} us early")

    def _stands(self, target: tuple[str, str], text: str) -> bool:
        box = next(b for b in self.boxes if b.device.name == target[0])
        return self._stands_at(target, box.device.control(target[1]).code(text))

    def _stands_at(self, target: tuple[str, str], code: int) -> bool:
        box = next(b for b in self.boxes if b.device.name == target[0])
        return box.codes[target[1]] == code

    def rest(self) -> None:
        """A long time goes by: everything has settled."""
        self.wires.clear()
        self.held.clear()
        self.faults.clear()
        for box in self.boxes:
            box.busy_until = 0

    def meddle(self) -> None:
        """The player moves what is in hand, and controllers send of what they declare."""
        self.rest()
        for name, control in self.show.hands:
            box = next(b for b in self.boxes if b.device.name == name)
            if self.rng.random() < 0.7:
                self._by_hand(box, control)
        for controller in self.show.controllers:
            for _ in range(self.rng.randrange(4)):
                sends = [bytes((0xB0, cc, self.rng.choice((0, 1, 64, 127)))) for cc in controller.ccs]
                sends += [bytes((0xC0, number)) for number in range(16) if controller.programs]
                if sends:
                    status, *data = self.rng.choice(sends)
                    self.hear(controller.port, bytes((status | controller.channel - 1, *data)))
                    self.rest()

    def _by_hand(self, box: Box, name: str) -> None:
        if name == PATCH:
            box.call(self.rng.randrange(box.device.count))
            return
        control = box.device.control(name)
        box.put(control, any_code(control, self.rng))


def found_stage(show: Show, rng: Random) -> Stage:
    """The rig as it may be found."""
    return Stage(show, [found_box(device, rng) for device in show.devices], rng)


def differences(box: Box, means: Meaning) -> list[str]:
    """How the box stands otherwise than the scene means; what nobody determines is not compared."""
    name = box.device.name
    wrong = []
    if means.program is not None and box.program != means.program:
        wrong.append(f"{name} is in {box.program}, not {means.program}")
    wanted: dict[str, int] = dict(means.codes)
    if means.program is not None:
        stored: Mapping[str, int] = box.memory[means.program]
        wanted |= {control: stored[control] for control in means.stored}
    return wrong + [
        f"{name}.{control} is {box.codes[control]}, not {code}"
        for control, code in wanted.items()
        if box.codes[control] != code
    ]


def wrong_after(stage: Stage, label: str, sent: Iterable[Sent]) -> list[str]:
    """How the stage stands otherwise than the scene means, once it has heard what was sent.

    And what moved on the way while its mute did not hold.
    """
    stage.rest()
    for port, data, starts_us in sent:
        stage.hear(port, data, starts_us)
    scene = dict(stage.show.scenes)[label]
    wrong = [d for box in stage.boxes for d in differences(box, meaning(stage.show, scene, box.device))]
    return stage.faults + wrong
