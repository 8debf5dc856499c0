"""What is counted as known after a scene: does the scene say so, and can nobody else have moved it?"""

from __future__ import annotations

from collections.abc import Iterator

from switchmatrix.compile.known import UNKNOWN as NOT_KNOWN
from switchmatrix.compile.known import DeviceKnown, Reach, device_found, settled
from switchmatrix.model.rig import Controller, Device, Rig
from switchmatrix.model.settings import PATCH
from switchmatrix.proof.bench import Bench
from switchmatrix.proof.goal import Labelled
from switchmatrix.proof.report import Counterexample
from switchmatrix.simulate.receiver import Receiver
from switchmatrix.simulate.standing import UNKNOWN
from switchmatrix.simulate.stream import heard
from switchmatrix.states.state import DeviceState, PatchIn

BANK = "bank"


def prove_reach(rig: Rig, bench: Bench, states: Labelled, reached: Reach) -> list[Counterexample]:
    """What is known after each state, against the state, the controllers and the player's hands."""
    device = bench.device
    moved: dict[str, str] = {}
    for controller in rig.controllers:
        if controller.port == device.port:
            for one in bench.receivers:
                for label in sorted(_moved(device, one, controller)):
                    moved.setdefault(label, f"the controller {controller.name} can move it")
    found: list[tuple[str | None, str, str, str]] = [
        (None, "the first scene", name, "nothing says how it is found") for name in _not_found(device)
    ]
    for label, state in states:
        known = settled(state, reached)
        by_hand = dict.fromkeys(
            sorted(_in_hand(bench, state.held, patch=state.patch_held)), "the player moves it"
        )
        found += [
            (label, label, name, because)
            for name, because in (moved | by_hand).items()
            if _trusted(device, known, name)
        ]
        found += [(label, label, name, "the scene does not say it") for name in _unsaid(state, known)]
    return list(_counters(device, found))


def _counters(device: Device, found: list[tuple[str | None, str, str, str]]) -> Iterator[Counterexample]:
    """Each reason once, with the first scene that it shows in."""
    seen: set[tuple[str, str]] = set()
    for before, after, name, because in found:
        if (name, because) not in seen:
            seen.add((name, because))
            control = None if name == PATCH else name
            said = f"what it stands at is counted on afterwards, and {because}"
            if before is None:
                said = f"what it stands at is counted on, and {because}"
            yield Counterexample(before, after, device.name, control, None, UNKNOWN, (), said)


def _not_found(device: Device) -> list[str]:
    """What is counted on before the first scene, but for toggles with a position at power-up."""
    known, stands = device_found(device), dict(device.powers_up)
    controls = enumerate(device.definition.controls)
    names = [c.name for n, c in controls if known.controls[n] not in (NOT_KNOWN, stands.get(n, NOT_KNOWN))]
    names += [PATCH] if known.patch is not NOT_KNOWN else []
    return names + ([BANK] if isinstance(known.bank, int) else [])


def _unsaid(state: DeviceState, known: DeviceKnown) -> list[str]:
    """What is known to stand otherwise than the state wants it."""
    controls = enumerate(state.device.definition.controls)
    names = [c.name for n, c in controls if known.controls[n] not in (NOT_KNOWN, state.wants[n])]
    at = state.patch.patch.address if isinstance(state.patch, PatchIn) else NOT_KNOWN
    return names + ([PATCH] if known.patch not in (NOT_KNOWN, at) else [])


def _trusted(device: Device, known: DeviceKnown, name: str) -> bool:
    """Whether something is counted as known."""
    if name == PATCH:
        return known.patch is not NOT_KNOWN
    if name == BANK:
        return isinstance(known.bank, int)
    index = next(n for n, c in enumerate(device.definition.controls) if c.name == name)
    return known.controls[index] is not NOT_KNOWN


def _in_hand(bench: Bench, held: frozenset[int], *, patch: bool) -> set[str]:
    """What the player moves, and all that moves with it."""
    unit = bench.receivers[0].unit
    moved = set(held)
    names = set()
    if patch:
        names |= {PATCH, BANK}
        moved |= set(unit.stored) | ({unit.toggled} if unit.toggled is not None else set())
    for n in tuple(moved):
        moved |= set(unit.parts[n].below)
    return names | {unit.parts[n].control.name for n in moved}


def _moved(device: Device, one: Receiver, controller: Controller) -> set[str]:
    """What of the device moves at anything that the controller can send."""
    moved: set[str] = set()
    banks = (UNKNOWN, 0) if one.unit.scheme is not None else (UNKNOWN,)
    for data in _sends(device, controller):
        events = heard(data)
        for bank in banks:
            now, told = one.told(one.unit.start(bank=bank), events)
            moved |= {label for event in told for label in event.moved}
            if bank == 0 and one.unit.bank(now) != 0:
                moved.add(BANK)
    triggers = {c.name for c in device.definition.controls if c.kind == "trigger"}
    return moved - triggers


def _sends(device: Device, controller: Controller) -> Iterator[bytes]:
    """One of each kind of message, with the values that may matter."""
    channel = controller.channel - 1
    values = {0, 1, 64, 127}
    for control in device.definition.controls:
        if control.toggle is not None:
            values |= {control.toggle.press}
    for cc in controller.ccs:
        for value in sorted(values):
            yield bytes((0xB0 | channel, cc, value))
    if controller.programs:
        for program in range(128):
            yield bytes((0xC0 | channel, program))
    for note in controller.notes:
        for value in sorted(values - {0}):
            yield bytes((0x90 | channel, note, value))
    if controller.pressure:
        yield from (bytes((0xD0 | channel, value)) for value in sorted(values))
    if controller.bend:
        yield bytes((0xE0 | channel, 0, 0))
        yield bytes((0xE0 | channel, 127, 127))
