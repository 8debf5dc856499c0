"""A little receiver: boxes that hear bytes on their ports, each with a memory that nobody has seen.

It reads bytes by itself and shares nothing with the compiler but the text of the show.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from random import Random

from tests.compile.shows import Control, Device, Meaning, Show, meaning

BYTE_US = {"din": 320, "usb": 0}

Sent = tuple[str, bytes, int]
"""A message on the wire: its port, its bytes, the microsecond of its first byte."""


@dataclass(slots=True)
class Box:
    """A device as it stands on stage.

    `memory` holds for each program what it stores; `also_recalls` where a repeat that flips a switch
    loads the program again besides.
    """

    device: Device
    program: int
    codes: dict[str, int]
    memory: dict[int, dict[str, int]]
    also_recalls: bool = False
    busy_until: int = 0

    def hear(self, message: bytes) -> bool:
        """Act on a message of the port; whether it was a recall, which takes time."""
        status, *data = message
        if status & 0x0F != self.device.channel - 1:
            return False
        if status & 0xF0 == 0xB0:
            number, value = data
            for control in self.device.controls:
                if control.cc == number:
                    self.codes[control.name] = value
        if status & 0xF0 == 0xC0:
            return self._program(data[0])
        return False

    def _program(self, number: int) -> bool:
        for control in self.device.controls:
            if control.cc is None and number in dict(control.words).values():
                self.codes[control.name] = number
                return False
        if number >= self.device.count:
            return False
        self.call(number)
        return True

    def call(self, number: int) -> None:
        """The program, called over MIDI or by foot."""
        repeat = self.device.repeat if number == self.program else "recalls"
        self.program = number
        if repeat.startswith("toggles"):
            self._flip(repeat.removeprefix("toggles "))
        if repeat == "recalls" or (repeat != "nothing" and self.also_recalls):
            self.codes.update(self.memory[number])

    def _flip(self, name: str) -> None:
        control = next(c for c in self.device.controls if c.name == name)
        codes = dict(control.words)
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
    return (
        rng.choice([code for _, code in control.words]) if control.words else rng.choice((0, 1, 2, 64, 127))
    )


def found_box(device: Device, rng: Random) -> Box:
    """The box as it may be found: its memory is what the patches are said to store, the rest is anything."""
    memory = {
        program: {c.name: any_code(c, rng) for c in device.controls if c.stored} | device.listed(program)
        for program in range(device.count)
    }
    codes = {c.name: any_code(c, rng) for c in device.controls}
    program = rng.randrange(device.count) if device.count else 0
    return Box(device, program, codes, memory, rng.random() < 0.5)


@dataclass(slots=True)
class Stage:
    """All boxes of a show, the wires to them, and people who move what is theirs to move."""

    show: Show
    boxes: list[Box]
    rng: Random
    wires: dict[str, int] = field(default_factory=dict)

    def hear(self, port: str, data: bytes, starts_us: int = 0) -> None:
        """Bytes that start at a moment: ValueError on a wire in use; a box that settles hears nothing."""
        if starts_us < self.wires.get(port, 0):
            raise ValueError(f"two messages at once on {port}")
        ends = starts_us + BYTE_US[dict(self.show.speeds)[port]] * len(data)
        self.wires[port] = ends
        for message in messages(data):
            for box in self.boxes:
                if box.device.port == port and box.busy_until <= starts_us and box.hear(message):
                    box.busy_until = ends + box.device.settle_ms * 1000

    def rest(self) -> None:
        """A long time goes by: everything has settled."""
        self.wires.clear()
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
        if name == "patch":
            box.call(self.rng.randrange(box.device.count))
            return
        control = next(c for c in box.device.controls if c.name == name)
        box.codes[name] = any_code(control, self.rng)


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
    """How the stage stands otherwise than the scene means, once it has heard what was sent."""
    stage.rest()
    for port, data, starts_us in sent:
        stage.hear(port, data, starts_us)
    scene = dict(stage.show.scenes)[label]
    return [d for box in stage.boxes for d in differences(box, meaning(stage.show, scene, box.device))]
