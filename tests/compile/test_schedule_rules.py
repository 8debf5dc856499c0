"""No schedule of any transition breaks a rule, and each rule is seen to be broken where it is."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from hypothesis.strategies import SearchStrategy

from switchmatrix.compile.schedule import Scheduled, Timed, schedule
from switchmatrix.compile.step import Role
from tests.compile.cases import Case, drawn, mute, rig_of, unit
from tests.compile.drawn import Dice
from tests.compile.rules import broken, idle

DICE: SearchStrategy[Dice] = st.binary(min_size=160, max_size=160).map(Dice)
CASES: SearchStrategy[Case] = st.builds(
    lambda dice, devices: drawn(dice, devices, 3 * devices), DICE, st.sampled_from([3, 5, 8])
)


def sent(case: Case) -> Scheduled:
    """The case in time, from a rig at rest."""
    return schedule(case.rig, case.steps)


@settings(max_examples=400, deadline=None)
@given(CASES)
def test_no_schedule_breaks_a_rule(case: Case) -> None:
    assert broken(case.rig, case.steps, sent(case).messages) == [], case.shown()


@settings(max_examples=200, deadline=None)
@given(CASES)
def test_no_port_is_idle_while_a_message_could_go(case: Case) -> None:
    assert idle(case.rig, case.steps, sent(case).messages) == [], case.shown()


@settings(max_examples=200, deadline=None)
@given(CASES)
def test_each_device_gets_its_messages_in_the_order_of_the_transition(case: Case) -> None:
    messages = sent(case).messages
    devices = {step.device for step in case.steps}
    assert {d: [m.step.data for m in messages if m.step.device == d] for d in devices} == {
        d: [step.data for step in case.steps if step.device == d] for d in devices
    }


@settings(max_examples=200, deadline=None)
@given(CASES)
def test_messages_stand_in_the_order_in_which_they_start(case: Case) -> None:
    starts = [m.starts_us for m in sent(case).messages]
    assert starts == sorted(starts)


@settings(max_examples=100, deadline=None)
@given(CASES)
def test_a_schedule_is_the_same_each_time(case: Case) -> None:
    assert sent(case) == sent(case)


# Both are sent one after the other, the second as early as what the first left going allows: together
# they break no rule, held to as one transition.
@settings(max_examples=300, deadline=None)
@given(CASES, CASES, st.sampled_from([0, 1000, 5000, 12000, 60000]))
def test_a_transition_that_begins_within_another_breaks_no_rule(one: Case, two: Case, at_us: int) -> None:
    first = schedule(one.rig, one.steps)
    later = tuple(replace(step) for step in two.steps)
    then = schedule(one.rig, later, at_us, first.busy)
    together = (*first.messages, *then.messages)
    assert broken(one.rig, (*one.steps, *later), together) == [], one.shown() + two.shown()


@settings(max_examples=100, deadline=None)
@given(CASES, st.integers(0, 10_000_000))
def test_a_later_beginning_moves_all_of_a_schedule(case: Case, at_us: int) -> None:
    assert [
        (m.starts_us - at_us, m.lands_us - at_us) for m in schedule(case.rig, case.steps, at_us).messages
    ] == [(m.starts_us, m.lands_us) for m in sent(case).messages]


DIN = rig_of({"rack": "din", "floor": "din"})
TWO = (*unit("echo", 2, settle_us=35000), *unit("gate", 3))
PAIR = (*unit("echo", 3, 3), *unit("gate", 3))
HELD = Case(
    rig_of({"rack": "din", "floor": "din"}, (mute(["amp.channel"], ["mixer.out"], 5000, 10000),)),
    (
        *unit("mixer", 3, port="floor", moves="out", role=Role.MUTE_ON),
        *unit("amp", 3, settle_us=1000, moves="channel"),
        *unit("mixer", 3, port="floor", moves="out", role=Role.MUTE_OFF),
    ),
)
FIRED = (*unit("echo", 2, settle_us=35000), *unit("bell", 3, port="floor", role=Role.TRIGGER, moves=""))


def at(case: Case, *starts: int) -> list[str]:
    """What rules the messages break at these moments, in the order of those."""
    timed = [
        Timed(step, us, us + 320 * len(step.data) + step.settle_us)
        for step, us in zip(case.steps, starts, strict=True)
    ]
    return broken(case.rig, case.steps, sorted(timed, key=lambda m: m.starts_us))


@pytest.mark.parametrize(
    ("case", "starts", "wrong"),
    [
        (Case(DIN, TWO), (0, 640), []),
        (Case(DIN, TWO), (0, 600), ["rack sends two at once"]),
        (Case(DIN, (*TWO[:1], *unit("echo", 3))), (0, 35640), []),
        (Case(DIN, (*TWO[:1], *unit("echo", 3))), (0, 35639), ["echo settles"]),
        (Case(DIN, (*unit("echo", 3, gap_us=2000), *unit("echo", 3))), (0, 2959), ["the gap of echo"]),
        (Case(DIN, PAIR), (0, 960, 1920), []),
        (Case(DIN, PAIR), (0, 1920, 960), ["a unit of echo is broken"]),
        (Case(DIN, (*PAIR[:2], *unit("gate", 3, channel=2))), (0, 1920, 960), []),
        (HELD, (0, 5960, 17920), []),
        (HELD, (0, 5959, 17920), ["mute 1 holds mixer first"]),
        (HELD, (0, 5960, 17919), ["mute 1 holds mixer until amp"]),
        (Case(DIN, FIRED), (0, 35640), []),
        (Case(DIN, FIRED), (0, 35639), ["echo lands before bell fires"]),
    ],
)
def test_a_broken_rule_is_seen(case: Case, starts: tuple[int, ...], wrong: list[str]) -> None:
    assert at(case, *starts) == wrong


def test_an_idle_port_is_seen() -> None:
    timed = [Timed(TWO[0], 0, 35640), Timed(TWO[1], 700, 1660)]
    assert idle(DIN, TWO, timed) == ["rack waits though gate could go"]
