"""Devices that hear each other's messages: proved together."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from switchmatrix.compile.device import device_transition
from switchmatrix.compile.known import DeviceKnown, device_found, reach, settled
from switchmatrix.model.rig import Rig
from switchmatrix.proof.bench import Bench, aligned
from switchmatrix.proof.goal import Goal, Wrong, goals, wrong
from switchmatrix.proof.parts import whole
from switchmatrix.proof.report import Counterexample, DeviceProof, Failed
from switchmatrix.states.state import DeviceState, State


def hear_each_other(benches: Sequence[Bench]) -> list[tuple[Bench, ...]]:
    """Devices of one port of which one minds a message that was sent to another, in groups."""
    group = {bench.device.name: n for n, bench in enumerate(benches)}
    for one in benches:
        for other in benches:
            if one is not other and one.device.port == other.device.port and _minds(other, one):
                old, new = group[other.device.name], group[one.device.name]
                group = {name: new if at == old else at for name, at in group.items()}
    found: dict[int, list[Bench]] = {}
    for bench in benches:
        found.setdefault(group[bench.device.name], []).append(bench)
    return [tuple(here) for here in found.values() if len(here) > 1]


def _minds(listener: Bench, speaker: Bench) -> bool:
    one = listener.receivers[0]
    return any(one.minds(event) for events in speaker.events.values() for event in events)


@dataclass(frozen=True, slots=True)
class _Together:
    """One state of all of the devices, and what is known after it."""

    label: str | None
    states: tuple[DeviceState, ...]
    goals: tuple[Goal, ...]
    known: tuple[DeviceKnown, ...]


def prove_joint(rig: Rig, benches: tuple[Bench, ...], scenes: Sequence[tuple[str, State]]) -> DeviceProof:
    """Every pair of their joint states, and from unknown: each hears the others wherever that can be."""
    every = _joint_states(rig, benches, scenes)
    found = tuple(device_found(bench.device) for bench in benches)
    failed = Failed()
    for before in [_Together(None, (), (), found), *every]:
        for after in every:
            for counter in _judge(benches, before, after):
                failed.add((counter.device, counter.control, counter.after), counter)
    names = tuple(bench.device.name for bench in benches)
    return DeviceProof(names, True, len(every), (len(every) + 1) * len(every), failed.told())


def _joint_states(
    rig: Rig, benches: tuple[Bench, ...], scenes: Sequence[tuple[str, State]]
) -> list[_Together]:
    reached = [reach(rig, bench.device) for bench in benches]
    out: dict[tuple[object, ...], _Together] = {}
    for label, state in scenes:
        by_name = {device.device.name: device for device in state.devices}
        here = tuple(by_name[bench.device.name] for bench in benches)
        key = tuple(one.key for one in here)
        if key in out:
            continue
        wanted = tuple(
            goals(bench, whole(bench.device), ((label, one),), can)[0]
            for bench, one, can in zip(benches, here, reached, strict=True)
        )
        known = tuple(settled(one, can) for one, can in zip(here, reached, strict=True))
        out[key] = _Together(label, here, wanted, known)
    return list(out.values())


Units = list[tuple[bytes, ...]]
"""A device's messages, those of a unit together: nothing comes between them on their channel."""


def _judge(benches: tuple[Bench, ...], before: _Together, after: _Together) -> Iterator[Counterexample]:
    sent = [_units(*three) for three in zip(benches, before.known, after.states, strict=True)]
    for place, bench in enumerate(benches):
        others = [unit for n, units in enumerate(sent) if n != place for unit in units]
        for data in _ways(sent[place], others):
            found = list(_wrong(bench, before.known[place], after.goals[place], data))
            if found:
                labels = (before.label, after.label or "", bench.device.name)
                yield from (Counterexample(*labels, *one, data) for one in found)
                break


def _wrong(bench: Bench, known: DeviceKnown, goal: Goal, data: tuple[bytes, ...]) -> list[Wrong]:
    found: dict[Wrong, None] = {}
    for kind, one in enumerate(bench.receivers):
        now = bench.hear(kind, bench.start(one, known), data)
        found |= dict.fromkeys(wrong(bench.device, goal, now, one))
    return list(found)


def _units(bench: Bench, known: DeviceKnown, state: DeviceState) -> Units:
    steps = bench.move(state, device_transition(known, state))
    sent = tuple(step.data for step in steps)
    units: Units = []
    for step, piece in zip(steps, aligned(sent, bench.on_wire(sent)), strict=True):
        if step.part == 1:
            units.append(())
        units[-1] += piece
    return units


def _ways(own: Units, others: Units) -> Iterator[tuple[bytes, ...]]:
    """Orders in which a device hears its own messages and the others', the plainest first.

    Units stay whole where it hears them: the schedule keeps them so, on all of a port with an omni device.
    """
    mine, theirs = _flat(own), _flat(others)
    yield theirs + mine
    yield mine + theirs
    yield _flat([theirs, *(piece for unit in own for piece in (unit, theirs))])


def _flat(units: Units) -> tuple[bytes, ...]:
    return tuple(message for unit in units for message in unit)
