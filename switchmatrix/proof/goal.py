"""Where a device must stand, where it comes from, and whether it stands there."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from switchmatrix.compile.known import UNKNOWN as NOT_KNOWN
from switchmatrix.compile.known import DeviceKnown, Reach, device_found, settled
from switchmatrix.midi.numbers import Address
from switchmatrix.model.rig import Device
from switchmatrix.proof.bench import Bench
from switchmatrix.proof.parts import Part
from switchmatrix.simulate.receiver import Receiver
from switchmatrix.simulate.standing import UNKNOWN, DeviceNow, Standing, Unknown
from switchmatrix.states.state import DeviceState, PatchIn

Labelled = tuple[tuple[str, DeviceState], ...]
"""Distinct states of one device, each with the first scene that has it."""

Wrong = tuple[str | None, object, object]
"""A control (None: the patch), what is wanted of it, and where it stands."""


@dataclass(frozen=True, slots=True)
class Goal:
    """A scene's state of a part: controls by index, the patch, and the bank that is counted on afterwards."""

    label: str
    state: DeviceState
    controls: tuple[tuple[int, Standing], ...]
    patch: Address | None
    bank: int | None


@dataclass(frozen=True, slots=True)
class Origin:
    """Where a part comes from: the scene (None: from unknown), and what is known of it then."""

    label: str | None
    known: DeviceKnown


def goals(bench: Bench, part: Part, states: Labelled, reached: Reach) -> list[Goal]:
    """The distinct states of a part."""
    found: dict[tuple[object, ...], Goal] = {}
    for label, state in states:
        key = part.key(state)
        if key not in found:
            found[key] = _goal(bench, label, part.of(state), reached)
    return list(found.values())


def _goal(bench: Bench, label: str, state: DeviceState, reached: Reach) -> Goal:
    wants = ((n, bench.wanted(want)) for n, want in enumerate(state.wants))
    patch = bench.stored(state.patch.patch.address).place if isinstance(state.patch, PatchIn) else None
    bank = settled(state, reached).bank
    counted = bank if isinstance(bank, int) else None
    return Goal(label, state, tuple((n, want) for n, want in wants if want is not None), patch, counted)


def origins(device: Device, part: Part, reached: Reach, wanted: list[Goal]) -> list[Origin]:
    """From unknown, and from each of the goals; those of which the same is known count once."""
    found = device_found(device)
    masked = tuple(s if n in part.controls else NOT_KNOWN for n, s in enumerate(found.controls))
    start = replace(found, controls=masked)
    out = {start: Origin(None, start)}
    for goal in wanted:
        known = settled(goal.state, reached)
        out.setdefault(known, Origin(goal.label, known))
    return list(out.values())


def wrong(device: Device, goal: Goal, now: DeviceNow, one: Receiver) -> Iterator[Wrong]:
    """How the device stands otherwise than the goal."""
    if goal.patch is not None and now.patch != goal.patch:
        yield None, goal.patch, now.patch
    for n, want in goal.controls:
        if now.controls[n] != want:
            yield device.definition.controls[n].name, want, now.controls[n]
    if goal.bank is not None:
        bank: int | Unknown | None = one.unit.bank(now)
        if bank != goal.bank:
            yield None, f"bank {goal.bank + 1}", UNKNOWN if not isinstance(bank, int) else f"bank {bank + 1}"
