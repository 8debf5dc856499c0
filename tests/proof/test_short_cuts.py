"""The proof's short cuts are honest: parts, and origins from which the same is sent."""

from __future__ import annotations

from random import Random

from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from switchmatrix.compile.device import device_transition
from switchmatrix.compile.known import UNKNOWN, DeviceKnown, reach, settled
from switchmatrix.proof.alike import Origins
from switchmatrix.proof.bench import Bench
from switchmatrix.proof.goal import goals, origins
from switchmatrix.proof.parts import Part, parts_of, whole
from switchmatrix.proof.run import prove
from switchmatrix.states.show import Run
from tests.proof.drawn import shows
from tests.proof.faults import states_of
from tests.support import judged

few = settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.filter_too_much])


def sound(files: dict[str, str]) -> Run:
    """The run of a drawn show; of one with an error, none."""
    show = judged(files, base=None)
    assume(show.sound)
    return show.worked_out.runs[0]


def masked(known: DeviceKnown, part: Part) -> DeviceKnown:
    """What is known of a part."""
    controls = tuple(s if n in part.controls else UNKNOWN for n, s in enumerate(known.controls))
    return (
        DeviceKnown(known.patch, known.bank, controls)
        if part.patch
        else DeviceKnown(UNKNOWN, None if known.bank is None else UNKNOWN, controls)
    )


@few
@given(shows(devices=1))
def test_what_is_sent_for_a_part_is_what_is_sent_for_all_as_far_as_the_part_goes(
    files: dict[str, str],
) -> None:
    run = sound(files)
    device = run.rig.devices[0]
    states, reached = states_of(run, device), reach(run.rig, device)
    for part in parts_of(device):
        for known in (settled(state, reached) for state in states):
            for state in states:
                all_of_it = device_transition(known, state)
                of_part = device_transition(masked(known, part), part.of(state))
                assert [s for s in all_of_it.prepare if s.index in part.controls] == list(of_part.prepare)
                assert (all_of_it.recall if part.patch else None) == of_part.recall
                assert [s for s in all_of_it.sends if s.index in part.controls] == list(of_part.sends)


@few
@given(shows(devices=1))
def test_what_is_known_of_a_part_is_what_is_known_of_all_as_far_as_the_part_goes(
    files: dict[str, str],
) -> None:
    run = sound(files)
    device = run.rig.devices[0]
    reached = reach(run.rig, device)
    for part in parts_of(device):
        for state in states_of(run, device):
            assert settled(part.of(state), reached) == masked(settled(state, reached), part)


@few
@given(shows(devices=1))
def test_parts_share_nothing_and_leave_nothing_out(files: dict[str, str]) -> None:
    device = sound(files).rig.devices[0]
    parts = parts_of(device)
    assert sorted(n for part in parts for n in part.controls) == list(range(len(device.definition.controls)))
    assert sum(part.patch for part in parts) == (device.definition.programs is not None)


@few
@given(shows(devices=1), st.booleans())
def test_origins_alike_are_sent_the_same_and_each_origin_is_in_one_group(
    files: dict[str, str], apart: bool
) -> None:
    run = sound(files)
    device = run.rig.devices[0]
    bench, reached = Bench(device), reach(run.rig, device)
    labelled = tuple((f"state {n}", state) for n, state in enumerate(states_of(run, device)))
    for part in parts_of(device) if apart else (whole(device),):
        every = goals(bench, part, labelled, reached)
        froms = Origins(device, origins(device, part, reached, every), frozenset())
        for goal in every:
            groups = list(froms.alike(goal))
            assert sum(group.members for group in groups) == (1 << len(froms.every)) - 1
            for group in groups:
                sent = {bench.sent(origin.known, goal.state) for origin in froms.each_of(group.members)}
                assert sent == {bench.sent(group.known, goal.state)}


def faulty(seed: int, data: tuple[bytes, ...]) -> tuple[bytes, ...]:
    """Some messages left out, changed or said twice: the same message always in the same way."""
    out: list[bytes] = []
    for message in data:
        luck = Random(f"{seed} {message.hex()}").random()
        if luck < 0.04:
            continue
        changed = luck < 0.08 and message[0] < 0xF0
        out.append(bytes((*message[:-1], message[-1] ^ 1)) if changed else message)
        out += [message] if luck > 0.96 else []
    return tuple(out)


def wrong(run: Run, seed: int, *, every_pair: bool) -> set[tuple[str, str | None]]:
    """What does not come to its state over a faulty wire: devices and controls, None for a patch."""
    found = prove(run, lambda _, data: faulty(seed, data), every_pair=every_pair).failed
    return {(counter.device, counter.control) for counter in found}


@settings(few, max_examples=100)
@given(shows(), st.integers(0, 10_000))
def test_short_cuts_find_what_the_long_way_finds(files: dict[str, str], seed: int) -> None:
    run = sound(files)
    assert wrong(run, seed, every_pair=False) == wrong(run, seed, every_pair=True)
