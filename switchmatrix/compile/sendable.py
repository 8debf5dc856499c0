"""Every unit of messages that a show can send to some devices of a rig, each once."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from switchmatrix.compile.device import device_transition
from switchmatrix.compile.known import Known, all_in_doubt, reach, settled
from switchmatrix.compile.mutable import mutable
from switchmatrix.compile.step import Step
from switchmatrix.compile.transition import Steps, transition
from switchmatrix.model.rig import Device, Rig
from switchmatrix.states.show import Run
from switchmatrix.states.state import DeviceState, State

Found = Iterator[tuple[tuple[Step, ...], str]]


@dataclass(frozen=True, slots=True)
class SentUnit:
    """The messages of a unit, and the first scene that sends it."""

    steps: tuple[Step, ...]
    scene: str


def sendable(rig: Rig, runs: Iterable[Run], devices: set[str]) -> dict[str, dict[bytes, SentUnit]]:
    """The units of each of the devices by their bytes.

    Those that bring the rig from unknown to each state, triggers among them, and those that only a change
    between two states of a leg sends.
    """
    steps = Steps()
    sent: dict[str, dict[bytes, SentUnit]] = {}
    for run in runs:
        between = (
            unit
            for n, device in enumerate(rig.devices)
            if device.name in devices
            for unit in _put_back(rig, run, n, device, steps)
        )
        for found in (_from_unknown(rig, run, steps), between):
            for unit, scene in found:
                if unit[0].device in devices:
                    data = b"".join(step.data for step in unit)
                    sent.setdefault(unit[0].device, {}).setdefault(data, SentUnit(unit, scene))
    return sent


def _from_unknown(rig: Rig, run: Run, steps: Steps) -> Found:
    for _, song in run.songs:
        every = [(scene.scene, scene.state, ()) for scene in song.states]
        fired = [(v.scene, v.state, v.triggers) for v in song.visits if v.triggers]
        for label, state, triggers in (*every, *fired):
            doubt = _in_doubt(rig, state)
            for unit in _units(transition(mutable(rig, (state,)), doubt, state, triggers, steps)):
                yield unit, f"`{label}` of `{song.song.song.id}`"


def _put_back(rig: Rig, run: Run, number: int, device: Device, steps: Steps) -> Found:
    """An edit is put back as its patch stores it, by a message that nothing sends from unknown."""
    if not any(patch.stores for patch in device.patches):
        return
    states: dict[int, tuple[DeviceState, str]] = {}
    for _, song in run.songs:
        for scene in song.states:
            state = scene.state.devices[number]
            states.setdefault(id(state), (state, f"`{scene.scene}` of `{song.song.song.id}`"))
    reached = reach(rig, device)
    befores = dict.fromkeys(settled(state, reached) for state, _ in states.values())
    for wanted, where in states.values():
        for before in befores:
            move = device_transition(before, wanted)
            for unit in _units(tuple(steps.sends(wanted, (*move.prepare, *move.sends)))):
                yield unit, where


def _in_doubt(rig: Rig, state: State) -> Known:
    """All unknown, but that each toggle stands where it must be flipped."""
    return Known(
        tuple(
            replace(
                known,
                controls=tuple(
                    1 - want if control.toggle is not None and isinstance(want, int) else stands
                    for control, want, stands in zip(
                        device.device.definition.controls, device.wants, known.controls, strict=True
                    )
                ),
            )
            for known, device in zip(all_in_doubt(rig).devices, state.devices, strict=True)
        )
    )


def _units(steps: tuple[Step, ...]) -> list[tuple[Step, ...]]:
    starts = [n for n, step in enumerate(steps) if step.part == 1]
    return [steps[start : start + steps[start].parts] for start in starts]
