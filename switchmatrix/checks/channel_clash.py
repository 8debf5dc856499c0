"""Two devices of one port that act on each other's messages; or that only share a channel."""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import permutations

from switchmatrix.bind.collisions import collisions
from switchmatrix.compile.sendable import SentUnit, sendable
from switchmatrix.compile.sentence import hex_text
from switchmatrix.compile.step import Step
from switchmatrix.definition.carriers import Carrier, SysexCarrier
from switchmatrix.definition.programs import BankSelect
from switchmatrix.diagnostics import names
from switchmatrix.diagnostics.diagnostic import Diagnostic, Related
from switchmatrix.model.rig import Device
from switchmatrix.simulate.receiver import Receiver, receiver
from switchmatrix.simulate.registers import BANK_LOWER, BANK_UPPER, WIDTH
from switchmatrix.simulate.standing import DeviceNow
from switchmatrix.simulate.stream import heard
from switchmatrix.states.show import ShowStates


@dataclass(frozen=True, slots=True)
class _Sent:
    """A message of the show, and the first scene that sends it."""

    step: Step
    scene: str


def channel_clash(show: ShowStates) -> list[Diagnostic]:
    """Each pair of devices on one port of which one acts on a message that is meant for the other.

    Whatever the show can send to the one is heard by the other, simulated, unit after unit. Two that share
    a channel and never move each other are a hint.
    """
    found = [clash for rig in show.rigs for device in rig.devices for clash in _within(device)]
    for rig in show.rigs:
        near = [pair for pair in permutations(rig.devices, 2) if _within_reach(*pair)]
        if not near:
            continue
        sent = sendable(rig, show.runs_of(rig), {speaker.name for speaker, _ in near})
        clashing: set[frozenset[str]] = set()
        for speaker, listener in near:
            clash = _clash(sent.get(speaker.name, {}), receiver(listener))
            if clash is not None and frozenset((speaker.name, listener.name)) not in clashing:
                clashing.add(frozenset((speaker.name, listener.name)))
                found.append(_finding(speaker, listener, *clash))
        found += [
            _shared(one, other)
            for one, other in near
            if rig.devices.index(one) < rig.devices.index(other)
            and not (one.omni or other.omni)
            and frozenset((one.name, other.name)) not in clashing
            and _channels(one) & _channels(other)
        ]
    return found


def _within(device: Device) -> list[Diagnostic]:
    """Controls of one device that its definition keeps apart by channel and its rig does not."""
    controls = device.definition.controls
    if len({control.channel for control in controls}) < 2:
        return []
    apart: list[Diagnostic] = []
    together: list[Diagnostic] = []
    collisions(list(controls), apart)
    number = {c.channel: "all" if device.omni else str(device.channel_of(c.channel)) for c in controls}
    collisions([replace(control, channel=number[control.channel]) for control in controls], together)
    help = "each of the device's channels needs a number of its own, on its front panel and here"
    if device.omni:
        help = f"`{device.name}` hears all channels (omni): turn that off on its front panel, and here"
    return [
        names.CHANNEL_CLASH.at(
            device.span, f"{one.message} on one channel of `{device.name}`", help, one.related
        )
        for one in together
        if one not in apart
    ]


def _channels(device: Device) -> set[int]:
    return {device.channel_of(name) for name in device.definition.channels}


def _within_reach(speaker: Device, listener: Device) -> bool:
    """Whether the listener could hear anything that is meant for the speaker."""
    if speaker.port != listener.port:
        return False
    exclusive = _has_exclusive(speaker) and _has_exclusive(listener)
    return listener.omni or exclusive or bool(_channels(speaker) & _channels(listener))


def _has_exclusive(device: Device) -> bool:
    """Whether system exclusive, which has no channel, moves the device."""
    return any(isinstance(control.carrier, SysexCarrier) for control in device.definition.controls)


def _clash(sent: dict[bytes, SentUnit], listener: Receiver) -> tuple[_Sent, tuple[str, ...]] | None:
    """The first message that moves something of the listener, and what it moves."""
    for unit in sent.values():
        now = listener.unit.start()
        for step in unit.steps:
            events = heard(step.data)
            if any(listener.minds(event) for event in events):
                before = now
                now, told = listener.told(now, events)
                moved = tuple(dict.fromkeys(name for event in told for name in event.moved))
                if not moved and _chooses_bank(listener, before, now):
                    moved = ("bank",)
                if moved:
                    return _Sent(step, unit.scene), moved
    return None


def _chooses_bank(listener: Receiver, before: DeviceNow, now: DeviceNow) -> bool:
    """Whether the listener's next program would be looked up in a bank that nobody chooses anew."""
    programs = listener.unit.definition.programs
    if programs is None or programs.bank is None or programs.bank_always:
        return False
    minds = {BankSelect.MSB: (BANK_UPPER,), BankSelect.LSB: (BANK_LOWER,)}.get(
        programs.bank, (BANK_UPPER, BANK_LOWER)
    )
    at = [row * WIDTH + register for row in range(len(listener.unit.rows)) for register in minds]
    return any(before.registers[n] != now.registers[n] for n in at)


def _finding(speaker: Device, listener: Device, sent: _Sent, moved: tuple[str, ...]) -> Diagnostic:
    shown = ", ".join(f"`{name}`" for name in moved[:4]) + (" and more" if len(moved) > 4 else "")
    message = (
        f"`{speaker.name}` {sent.step.meaning} in {sent.scene}, and that message "
        f"({hex_text(sent.step.data)}) also moves {shown} of `{listener.name}`, on the same port"
    )
    help = "give one of them a channel of its own, on its front panel and here"
    if listener.omni:
        help = f"`{listener.name}` hears all channels (omni): turn that off on its front panel, and here"
    elif isinstance(_carrier(speaker, sent), SysexCarrier):
        help = "give one of them a device id of its own, on its front panel and here"
    related = (
        Related(speaker.span, f"`{speaker.name}` is here"),
        Related(sent.step.span, "this line brings the message"),
    )
    return names.CHANNEL_CLASH.at(listener.span, message, help, related)


def _carrier(speaker: Device, sent: _Sent) -> Carrier | None:
    moves = sent.step.moves
    return next((c.carrier for c in speaker.definition.controls if c.name in moves), None)


def _shared(one: Device, other: Device) -> Diagnostic:
    channel = min(_channels(one) & _channels(other))
    message = (
        f"`{other.name}` and `{one.name}` share channel {channel} of `{one.port}`; "
        "neither acts on what the show sends the other"
    )
    help = "nothing to do if that is meant; a channel each is easier to keep right"
    return names.CHANNEL_SHARED.at(other.span, message, help, (Related(one.span, f"`{one.name}` is here"),))
