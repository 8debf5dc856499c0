"""Small shows drawn from bytes, most of them sound: a byte decides each question, 0 the plainest way."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import TypeVar

from hypothesis import strategies as st
from hypothesis.strategies import SearchStrategy

from tests.compile.shows import AS_STORED, PATCH, Control, Controller, Device, Mute, Patch, Show

SWITCH = (("on", 127), ("off", 0))
FLIPPED = (("on", 1), ("off", 0))
NUMBERS = ("0", "1", "64", "127")
WIDE = ("0", "1", "128", "129", "256", "16383")
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
    most_devices: int = 3, hands: int = 12, names: bool = True, complete: int = 95, mutes: int = 30
) -> SearchStrategy[Show]:
    """Rigs of up to three boxes with two to four scenes.

    Each target is in the player's hands `hands` times of a hundred; `names` where a patch may have
    two names; `complete` times of a hundred a box that may not recall lists all that its patches store;
    `mutes` times of a hundred something is held while something else moves.
    """
    return st.binary(min_size=320, max_size=320).map(
        lambda data: show_from(Dice(data), most_devices, hands, names, complete, mutes)
    )


def show_from(dice: Dice, most_devices: int, hands: int, names: bool, complete: int, mutes: int = 0) -> Show:
    """The show that the dice decide."""
    rig = tuple(_device(dice, n, names, complete) for n in range(dice.pick(range(1, most_devices + 1))))
    rig = _alone(rig)
    targets = [(d.name, c.name) for d in rig for c in d.controls] + [(d.name, PATCH) for d in rig if d.count]
    held = tuple(target for target in targets if dice.often(hands if not _flips(rig, target) else 2))
    home: dict[tuple[str, str], str] = {}
    for device in rig:
        home |= _lines(dice, device, (92, 88, 30), False)
    muted = _mutes(dice, rig, held) if dice.often(mutes) else ()
    for mute in muted:
        home |= {target: home.get(target, "0" if text.isdecimal() else "off") for target, text in mute.holds}
    scenes = []
    for n in range(dice.pick((2, 3, 4))):
        own: dict[tuple[str, str], str] = {}
        for device in rig:
            target = (device.name, PATCH)
            own |= _lines(dice, device, (40, 35, 35), target in home and target not in held)
        scenes.append((f"s{n + 1}", own))
    heard = tuple(c for device in rig for c in _controllers(dice, device, rig))
    return Show(PORTS, rig, heard, held, home, tuple(scenes), muted)


def _flips(rig: tuple[Device, ...], target: tuple[str, str]) -> bool:
    """Whether the target can only be flipped: in the player's hands it can be set by no scene."""
    return any(d.name == target[0] and c.name == target[1] and c.flips for d in rig for c in d.controls)


def _alone(rig: tuple[Device, ...]) -> tuple[Device, ...]:
    """The rig; boxes that share a channel need no gap, and do not settle long.

    A box that takes nothing for a while could miss half of a group that is meant for the other.
    """
    places = [(d.port, d.channel) for d in rig]
    return tuple(
        d if places.count((d.port, d.channel)) == 1 else replace(d, gap_ms=0, settle_ms=0, controls=_quick(d))
        for d in rig
    )


def _quick(device: Device) -> tuple[Control, ...]:
    return tuple(replace(control, settle_ms=0) for control in device.controls)


def _device(dice: Dice, number: int, names: bool, complete: int) -> Device:
    """A box; one without programs may share a channel with the box before it."""
    count = dice.pick((COUNT, COUNT, COUNT, 0))
    repeat = dice.pick(("recalls", "recalls", "nothing", "toggles engage")) if count else "recalls"
    bank = dice.pick((None, None, None, "cc0", "cc32", "both")) if count else None
    share = complete if repeat != "recalls" else 0
    has = _controls(dice, number, count, bank is not None, repeat)
    quiet = not any(c.carried for c in has) and not count
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
        bank=bank,
        always=dice.often(30),
        bank_size=4 if bank is not None else 128,
        gap_ms=dice.pick((0, 0, 0, 2)),
    )


def _controls(dice: Dice, number: int, count: int, banked: bool, repeat: str) -> tuple[Control, ...]:
    """A switch and up to four more; a program-carried choice keeps clear of the patches' numbers."""
    stored = [bool(count) and dice.often(percent) for percent in (25, 75, 50, 25, 25)]
    base = 50 + 10 * number
    left, right = (5, 6) if count else (0, 1)
    bank = dice.pick((0, 1)) if banked else None
    words = (("tape", 0), ("grain", 1), ("clean", 2))
    every = [
        _engage(dice, base, stored[0], repeat),
        _level(dice, number, base + 1, stored[1]),
        Control("mode", "choice", base + 2, words, stored[2], settle_ms=dice.pick((0, 0, 4))),
        Control("relay", "choice", None, (("left", left), ("right", right)), stored[3], bank=bank),
        Control("blend", "choice", base + 3, words, stored[4]),
    ]
    has = tuple(c for c in every if c.name == "engage" or dice.often(60 if c.name != "blend" else 30))
    return _resets(dice, has)


def _engage(dice: Dice, cc: int, stored: bool, repeat: str) -> Control:
    """A switch; now and then one that can only be flipped."""
    if repeat == "toggles engage" or not dice.often(20):
        return Control("engage", "switch", cc, SWITCH, stored)
    powers_up = dice.pick(("off", "on"))
    return Control("engage", "switch", cc, FLIPPED, stored, flips=True, powers_up=powers_up)


def _level(dice: Dice, number: int, cc: int, stored: bool) -> Control:
    """A level on one CC, on two, or on a parameter number."""
    carrier = dice.pick(("cc", "cc", "pair", "pair", "nrpn", "nrpn14"))
    if carrier == "cc":
        return Control("mix", "level", cc, (), stored)
    if carrier == "pair":
        return Control("mix", "level", cc, (), stored, lsb=cc + 4)
    return Control("mix", "level", None, (), stored, nrpn=(number, 1), bits=14 if carrier == "nrpn14" else 7)


def _resets(dice: Dice, has: tuple[Control, ...]) -> tuple[Control, ...]:
    """The controls, now and then with a choice that reloads others, and one of those that does too."""
    below = {"mode": ("blend", "mix", "relay"), "blend": ("mix",)}
    given = {c.name for c in has}
    return tuple(
        replace(c, resets=tuple(n for n in below[c.name] if n in given and dice.often(60)))
        if c.name in below and dice.often(30)
        else c
        for c in has
    )


def _mutes(dice: Dice, rig: tuple[Device, ...], held: tuple[tuple[str, str], ...]) -> tuple[Mute, ...]:
    """One mute or two, each of a switch or a level that nothing but its own message moves."""
    out = []
    for _ in range(dice.pick((1, 1, 2))):
        can = [
            ((d.name, c.name), dice.pick(("on", "off")) if c.words else "0")
            for d in rig
            for c in d.controls
            if c.name in ("engage", "mix")
            and not c.flips
            and (not c.stored or dice.often(40))
            and (d.name, c.name) not in held
            and not any(c.name in d.below(other.name) for other in d.controls)
            and d.repeat != f"toggles {c.name}"
        ]
        if not can:
            continue
        target, text = dice.pick(can)
        could = [(d.name, c.name) for d in rig for c in d.controls if (d.name, c.name) != target]
        could += [(d.name, PATCH) for d in rig if d.count]
        covers = tuple(dict.fromkeys(dice.pick(could) for _ in range(dice.pick((1, 2, 3))))) if could else ()
        if covers:
            out.append(Mute(covers, ((target, text),), dice.pick((0, 5)), dice.pick((0, 7))))
    return tuple(out)


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
    return dice.pick([word for word, _ in control.words] or (WIDE if control.wide else NUMBERS))


def _controllers(dice: Dice, device: Device, rig: tuple[Device, ...]) -> tuple[Controller, ...]:
    """Now and then, someone who can send to the device, and to whoever else hears its channel."""
    if not dice.often(30):
        return ()
    near = [c for d in rig if (d.port, d.channel) == (device.port, device.channel) for c in d.controls]
    could = [cc for c in near for cc in (c.cc, c.lsb) if cc is not None and dice.often(20 if c.flips else 40)]
    could += [cc for cc in (0, 32, 6, 38, 98, 99) if dice.often(15)]
    ccs = tuple(could)
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
