"""Triggers: each goes off on its own device as it is meant to, and nothing else moves, there or beside it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from switchmatrix.compile.known import Known
from switchmatrix.compile.transition import transition
from switchmatrix.midi.numbers import WireBank
from switchmatrix.model.rig import Rig
from switchmatrix.model.settings import PATCH
from switchmatrix.proof.bench import Bench
from switchmatrix.proof.report import Counterexample
from switchmatrix.simulate.receiver import Receiver
from switchmatrix.simulate.standing import DeviceNow
from switchmatrix.simulate.stream import Event, heard
from switchmatrix.states.state import State, Trigger

Fired = tuple[str, Trigger]
"""A trigger with the scene that fires it."""


def prove_triggers(
    rig: Rig, benches: Sequence[Bench], fired: Sequence[Fired], banks: dict[str, set[WireBank]]
) -> list[Counterexample]:
    """Each trigger once, wherever its device stands. `banks` are those that are counted on, by device."""
    nobody = replace(rig, devices=(), mutes=())
    found: list[Counterexample] = []
    seen: set[tuple[str, str, int]] = set()
    for label, trigger in fired:
        name = (trigger.device.name, trigger.control, trigger.code)
        if name in seen:
            continue
        seen.add(name)
        own = next(bench for bench in benches if bench.device.name == trigger.device.name)
        steps = transition(nobody, Known(()), State(()), (trigger,))
        data = own.on_wire(step.data for step in steps)
        for bench in benches:
            if bench.device.port == own.device.port:
                for because in _wrong(bench, trigger, data, banks.get(own.device.name, set())):
                    named = (trigger.device.name, trigger.control)
                    found.append(Counterexample(label, label, *named, None, None, data, because))
    return list(dict.fromkeys(found))


def _wrong(bench: Bench, trigger: Trigger, data: tuple[bytes, ...], banks: set[WireBank]) -> Iterator[str]:
    """What the device does with the trigger's messages that it should not."""
    mine = bench.device.name == trigger.device.name
    events = [event for message in data for event in heard(message)]
    for one in bench.receivers:
        now, moved = _heard(one, one.unit.start(), events)
        fires = [one.name_of(n) for n, _ in now.fired]
        if mine and [(one.name_of(n), code) for n, code in now.fired] != [(trigger.control, trigger.code)]:
            yield "it does not go off as it is meant to"
        others = moved - ({trigger.control} if mine else set())
        for name in sorted(others):
            does = "fires" if name in fires else "moves"
            yield (
                f"it {does} {bench.device.name} too"
                if name == PATCH
                else (f"it {does} {bench.device.name}.{name} too")
            )
        for bank in sorted(banks) if mine else ():
            if one.unit.bank(_heard(one, one.unit.start(bank=bank), events)[0]) != bank:
                yield f"it leaves {bench.device.name} in another bank, and that is not counted with"


def _heard(one: Receiver, start: DeviceNow, events: Sequence[Event]) -> tuple[DeviceNow, set[str]]:
    now, told = one.told(start, events)
    return now, {label for event in told for label in event.moved}
