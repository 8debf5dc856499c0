"""Small shows drawn from bytes, most of them sound: a byte decides each question, 0 the plainest way."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TypeVar

from hypothesis import strategies as st
from hypothesis.strategies import SearchStrategy

from tests.compile.shows import AS_STORED, PATCH, Control, Controller, Device, Patch, Show

SWITCH = (("on", 127), ("off", 0))
NUMBERS = ("0", "1", "64", "127")
PORTS = (("rack", "din"), ("floor", "usb"))
COUNT = 8
T = TypeVar("T")


class Dice:
    """Answers from a row of bytes; zeros for ever after its end."""

    def __init__(self, data: bytes) -> None:
        self.rest: Iterator[int] = iter(data)

    def often(self, percent: int) -> bool:
        """Yes that often; no for a zero."""
        return 255 - next(self.rest, 0) < percent * 256 // 100

    def pick(self, among: Sequence[T]) -> T:
        """One of them; the first for a zero."""
        return among[next(self.rest, 0) % len(among)]


def shows(
    most_devices: int = 3, hands: int = 12, names: bool = True, complete: int = 95
) -> SearchStrategy[Show]:
    """Rigs of up to three boxes with two to four scenes.

    Each target is in the player's hands `hands` times of a hundred; `names` where a patch may have
    two names; `complete` times of a hundred a box that may not recall lists all that its patches store.
    """
    return st.binary(min_size=240, max_size=240).map(
        lambda data: show_from(Dice(data), most_devices, hands, names, complete)
    )


def show_from(dice: Dice, most_devices: int, hands: int, names: bool, complete: int) -> Show:
    """The show that the dice decide."""
    rig = tuple(_device(dice, n, names, complete) for n in range(dice.pick(range(1, most_devices + 1))))
    targets = [(d.name, c.name) for d in rig for c in d.controls] + [(d.name, PATCH) for d in rig if d.count]
    held = tuple(target for target in targets if dice.often(hands))
    home: dict[tuple[str, str], str] = {}
    for device in rig:
        home |= _lines(dice, device, (92, 88, 30), False)
    scenes = []
    for n in range(dice.pick((2, 3, 4))):
        own: dict[tuple[str, str], str] = {}
        for device in rig:
            target = (device.name, PATCH)
            own |= _lines(dice, device, (40, 35, 35), target in home and target not in held)
        scenes.append((f"s{n + 1}", own))
    heard = tuple(c for device in rig for c in _controllers(dice, device, rig))
    return Show(PORTS, rig, heard, held, home, tuple(scenes))


def _device(dice: Dice, number: int, names: bool, complete: int) -> Device:
    """A box; one without programs may share a channel with the box before it."""
    count = dice.pick((COUNT, COUNT, COUNT, 0))
    repeat = dice.pick(("recalls", "recalls", "nothing", "toggles engage")) if count else "recalls"
    share = complete if repeat != "recalls" else 0
    has = _controls(dice, number, count)
    quiet = all(c.cc is not None for c in has) and not count
    stored = tuple(c for c in has if c.stored)
    return Device(
        name=("alder", "birch", "cedar")[number],
        port=dice.pick(("rack", "rack", "floor")),
        channel=number + 1 - (quiet and number > 0 and dice.often(50)),
        count=count,
        first=dice.pick((0, 1)),
        settle_ms=dice.pick((0, 1, 35)),
        repeat=repeat,
        controls=has,
        patches=_patches(dice, stored, share, names) if count else (),
    )


def _controls(dice: Dice, number: int, count: int) -> tuple[Control, ...]:
    """A switch and up to three more; a program-carried choice keeps clear of the patches' numbers."""
    stored = [bool(count) and dice.often(percent) for percent in (25, 75, 50, 25)]
    base = 50 + 10 * number
    left, right = (5, 6) if count else (0, 1)
    every = [
        Control("engage", "switch", base, SWITCH, stored[0]),
        Control("mix", "level", base + 1, (), stored[1]),
        Control("mode", "choice", base + 2, (("tape", 0), ("grain", 1), ("clean", 2)), stored[2]),
        Control("relay", "choice", None, (("left", left), ("right", right)), stored[3]),
    ]
    return tuple(c for c in every if c.name == "engage" or dice.often(60))


def _patches(dice: Dice, stored: tuple[Control, ...], complete: int, names: bool) -> tuple[Patch, ...]:
    """Two patches, now and then a second name for the first; they list all `complete` times of a hundred."""
    numbers = dice.pick(((0, 1), (1, 0), (2, 4), (3, 0), (0, 1, 0) if names else (1, 2)))
    holds = {number: {c.name: _text(dice, c) for c in stored} for number in numbers}
    share = 100 if dice.often(complete) else 50
    return tuple(
        Patch(f"p{n}", number, tuple(pair for pair in holds[number].items() if dice.often(share)))
        for n, number in enumerate(numbers, 1)
    )


def _text(dice: Dice, control: Control) -> str:
    return dice.pick([word for word, _ in control.words] or NUMBERS)


def _controllers(dice: Dice, device: Device, rig: tuple[Device, ...]) -> tuple[Controller, ...]:
    """Now and then, someone who can send to the device, and to whoever else hears its channel."""
    if not dice.often(30):
        return ()
    near = [c for d in rig if (d.port, d.channel) == (device.port, device.channel) for c in d.controls]
    ccs = tuple(c.cc for c in near if c.cc is not None and dice.often(40))
    return (Controller(device.port, device.channel, dice.often(50), ccs),)


def _lines(
    dice: Dice, device: Device, shares: tuple[int, int, int], patched: bool
) -> dict[tuple[str, str], str]:
    """Lines for patch, plain and stored controls, each that often.

    `patched` where a patch is in force without them.
    """
    patch, plain, stored = shares
    out: dict[tuple[str, str], str] = {}
    if device.patches and dice.often(patch):
        out[device.name, PATCH] = dice.pick(device.patches).name
        patched = True
    for control in device.controls:
        if dice.often(stored if control.stored else plain):
            back = control.stored and patched and dice.often(25)
            out[device.name, control.name] = AS_STORED if back else _text(dice, control)
    return out
