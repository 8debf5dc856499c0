"""Boxes as they are found, by what is known of them, and whether they come to a scene's state."""

from __future__ import annotations

from collections.abc import Iterable
from random import Random

from switchmatrix.compile.known import DeviceKnown
from switchmatrix.definition.programs import BankSelect
from switchmatrix.model.rig import Device
from switchmatrix.states.state import DeviceState, PatchIn, StoredIn
from tests.proof.stage import BANK, Box, codes_of, place_of


def found_box(device: Device, known: DeviceKnown, rng: Random) -> Box:
    """The device, standing where it is known to stand, and by chance where it is not."""
    definition, programs = device.definition, device.definition.programs
    any_codes = [[rng.choice(codes_of(c)) for c in definition.controls] for _ in range(2)]
    places = [place_of(programs, p.address) for p in device.patches] if programs is not None else [0]
    memory: dict[int, dict[int, int]] = {}
    for patch in device.patches:
        here = memory.setdefault(place_of(programs, patch.address) if programs is not None else 0, {})
        for n, control in enumerate(definition.controls):
            said = patch.stored(control.name)
            if control.stored:
                here[n] = here.get(n, rng.choice(codes_of(control))) if said is None else said.code
    at = rng.choice([*places, 0])
    if programs is not None and isinstance(known.patch, tuple):
        at = place_of(programs, known.patch)
    codes = any_codes[0]
    for n, stands in enumerate(known.controls):
        if isinstance(stands, int):
            codes[n] = stands
        elif programs is not None and isinstance(stands, StoredIn):
            codes[n] = memory[place_of(programs, stands.address)][n]
    shared = rng.random() < 0.5
    rows = [0] if device.omni else [device.channel_of(name) - 1 for name in definition.channels]
    numbers = {(row, BANK): [rng.choice((0, 1, 2, 5)), rng.choice((0, 1, 2, 5))] for row in {0, *rows}}
    for row in rows:
        numbers |= {(row, what): [rng.choice((0, 1)), rng.choice((0, 8, 9))] for what in ("RPN", "NRPN")}
    if programs is not None and programs.bank is not None and isinstance(known.bank, int):
        row = 0 if device.omni else device.channel_of(programs.channel) - 1
        halves = {BankSelect.MSB: (known.bank, 3), BankSelect.LSB: (3, known.bank)}
        numbers[0 if shared else row, BANK] = list(halves.get(programs.bank, divmod(known.bank, 128)))
    kept, also = rng.random() < 0.5, rng.random() < 0.5
    last = {row: rng.choice(("RPN", "NRPN")) for row in rows}
    return Box(device, codes, at, memory, any_codes[1], kept, also, shared, numbers, rng, last)


def outcome(box: Box, state: DeviceState, counts_on_bank: bool) -> dict[str, object]:
    """All that a scene wants of the box, as it stands: the patch, the controls, the bank counted on."""
    definition, programs = box.device.definition, box.device.definition.programs
    stands: dict[str, object] = {
        control.name: box.codes[n]
        for n, control in enumerate(definition.controls)
        if state.wants[n] is not None
    }
    if programs is not None and isinstance(state.patch, PatchIn):
        stands["patch"] = box.at
        if counts_on_bank:
            stands["bank"] = box.bank(0 if box.device.omni else box.device.channel_of(programs.channel) - 1)
    return stands


def wanted(box: Box, state: DeviceState, bank: int | None) -> dict[str, object]:
    """The same as the scene wants it of this box, with its memory."""
    programs = box.device.definition.programs
    wants: dict[str, object] = {}
    for n, control in enumerate(box.device.definition.controls):
        want = state.wants[n]
        if isinstance(want, StoredIn) and programs is not None:
            wants[control.name] = box.stored(place_of(programs, want.address))[n]
        elif want is not None:
            wants[control.name] = want
    if programs is not None and isinstance(state.patch, PatchIn):
        wants["patch"] = place_of(programs, state.patch.patch.address)
        if bank is not None:
            wants["bank"] = bank
    return wants


def lands(
    known: DeviceKnown, state: DeviceState, bank: int | None, data: Iterable[bytes], seeds: range = range(24)
) -> bool:
    """Whether every box that may stand there comes to the scene's state by the messages."""
    messages = tuple(data)
    for seed in seeds:
        box = found_box(state.device, known, Random(seed))
        want = wanted(box, state, bank)
        for message in messages:
            box.hear(message)
        if outcome(box, state, bank is not None) != want or box.fired:
            return False
    return True
