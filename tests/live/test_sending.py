"""Changes on the wires: the gate, stopping between messages, what is known afterwards, what goes first."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest

from switchmatrix.compile.known import UNKNOWN, all_in_doubt, nothing_known, settled_rig
from switchmatrix.compile.step import Role
from switchmatrix.live.changes import Change, Planner, after_fault
from switchmatrix.live.gate import Gate, ShutError
from switchmatrix.live.loop import Loop
from switchmatrix.live.outcome import delivery_said
from switchmatrix.live.records import MS, Lost
from switchmatrix.live.rig_ports import rig_ports
from switchmatrix.live.sending import deliver, known_after
from switchmatrix.live.spacing import extra_us, spaced, spaced_rig
from switchmatrix.live.wires import Wires, open_wires
from switchmatrix.model.settings import Target
from switchmatrix.states.state import State
from tests.live.rigs import Played, astray, played, run_on, states_of

A_RIG = run_on("a-rig")
BENCH = run_on("bench")
SILENCE = dict(states_of(A_RIG))["standing silence"]
CHORUS = dict(states_of(A_RIG))["nine-lanterns chorus"]
VERSE = dict(states_of(A_RIG))["nine-lanterns verse"]


def never() -> bool:
    """Nobody wishes it to end."""
    return False


def on_a_rig() -> Played:
    """The A rig, made of software."""
    return played(A_RIG.rig, Loop())


def chorus(one: Played) -> Change:
    """The chorus from unknown."""
    return one.planner.change(nothing_known(one.rig), "chorus", CHORUS)


def after(one: Played, count: int) -> Callable[[], bool]:
    """A wish to stop once so many messages have left."""
    return lambda: sum(len(wire.log) for wire in one.wires.by_port.values()) >= count


def test_nothing_is_handed_while_the_gate_is_shut() -> None:
    one = on_a_rig()
    one.wires.gate.fault()
    with pytest.raises(ShutError):
        deliver(one.wires, chorus(one), never)
    assert [wire.handed for wire in one.wires.by_port.values()] == [{}, {}]


def test_fault_shuts_a_gate_that_was_opened_in_advance() -> None:
    gate = Gate(said=True)
    gate.fault()
    assert not gate.is_open


def test_whole_change_leaves_the_rig_known_to_be_in_its_state() -> None:
    one = on_a_rig()
    delivery = deliver(one.wires, chorus(one), never)
    assert delivery.whole
    assert known_after(one.rig, delivery).known == settled_rig(one.rig, CHORUS)
    assert astray(one.box, CHORUS) == []


def test_change_that_is_stopped_ends_between_two_messages() -> None:
    one = on_a_rig()
    delivery = deliver(one.wires, chorus(one), after(one, 10))
    sent = [m.step.data for m in delivery.sent()]
    assert sent == [m.step.data for m in delivery.change.messages][: len(sent)]
    assert 10 <= len(sent) < len(delivery.change.messages)
    assert sorted(data for tap in one.taps.values() for data in tap.kept) == sorted(sent)


class Stalls(Loop):
    """A loop whose pace holds up the first message by a fifth of a second."""

    def __init__(self) -> None:
        super().__init__()
        self.stalled = False

    def wait(self, until_ns: int) -> None:
        dues = [due for port in self._outputs if (due := port.next_ns()) is not None]
        if dues and not self.stalled and min(dues) <= until_ns:
            self.stalled = True
            self._now = min(dues) + 200 * MS
        super().wait(max(until_ns, self._now))


def test_change_counts_as_landed_only_when_what_left_late_has() -> None:
    ends = []
    for loop in (Loop(), Stalls()):
        one = played(A_RIG.rig, loop)
        begins = loop.now_ns()
        delivery = deliver(one.wires, chorus(one), never)
        ends.append(loop.now_ns() - begins - max(delivery.late_ns.values()))
    assert ends[1] >= ends[0] > 0


def test_after_a_stop_what_was_not_sent_stands_as_before_and_what_was_is_unknown() -> None:
    one = on_a_rig()
    before = settled_rig(one.rig, VERSE)
    change = one.planner.change(before, "chorus", CHORUS)
    known = known_after(one.rig, deliver(one.wires, change, after(one, 1))).known
    names = [device.name for device in one.rig.devices]
    assert known.devices[names.index("selector")] == before.devices[names.index("selector")]
    assert known.devices[names.index("reverb")].patch is UNKNOWN


def test_stopped_change_says_what_was_sent_and_what_is_known() -> None:
    one = on_a_rig()
    change = one.planner.change(settled_rig(one.rig, VERSE), "chorus", CHORUS)
    said = delivery_said(one.rig, deliver(one.wires, change, after(one, 1)))
    count = len(change.messages)
    assert f"chorus: stopped between two messages, 2 of {count} messages were sent" in said
    assert "  reverb: nobody knows patch, mix, decay, pre-delay" in said


def test_lost_port_stops_the_others_and_nothing_more_is_sent() -> None:
    loop = Loop()
    one = played(A_RIG.rig, loop)

    def cut() -> bool:
        if after(one, 10)():
            one.wires.by_port["rack"].output.lose("the port is no longer there")  # type: ignore[attr-defined]
        return False

    delivery = deliver(one.wires, chorus(one), cut)
    rack = one.wires.by_port["rack"]
    assert delivery.lost == (Lost("rack", "the port is no longer there", len(rack.log), len(rack.log)),)
    assert delivery.faulty
    assert not one.wires.waiting()


def test_change_broken_off_inside_a_mute_says_that_it_left_the_rig_muted() -> None:
    one = played(BENCH.rig, Loop())
    title, state = states_of(BENCH)[-1]
    change = one.planner.change(nothing_known(one.rig), title, state)
    on = next(n for n, m in enumerate(change.messages) if m.step.role.value == "mute on")
    delivery = deliver(one.wires, change, after(one, on + 1))
    assert known_after(one.rig, delivery).muted == (Target("mixer", "mute-all"),)
    assert "left muted: mixer.mute-all may still be held by a mute" in delivery_said(one.rig, delivery)


def test_silence_sets_its_own_lines_before_all_else() -> None:
    planner = Planner(A_RIG.rig, 0)
    change = planner.silence(all_in_doubt(A_RIG.rig), SILENCE)
    first, second = change.messages[:2]
    assert (first.step.device, first.step.meaning) == ("mixer", "sets mute-all to on")
    assert second.starts_us >= first.starts_us + 960


def test_after_a_fault_comes_silence_and_then_the_whole_state() -> None:
    planner = Planner(A_RIG.rig, 0)
    changes = after_fault(planner, SILENCE, "chorus", CHORUS)
    whole = planner.change(all_in_doubt(A_RIG.rig), "chorus", CHORUS)
    assert [change.title for change in changes] == ["silence", "chorus"]
    assert changes[1] == whole


def test_after_a_fault_a_rig_without_silence_is_sent_the_whole_state() -> None:
    planner = Planner(A_RIG.rig, 0)
    assert [change.title for change in after_fault(planner, None, "chorus", CHORUS)] == ["chorus"]


def test_switch_that_can_only_be_flipped_is_set_by_hand_after_a_fault() -> None:
    planner = Planner(BENCH.rig, 0)
    title, state = states_of(BENCH)[-1]
    (change,) = after_fault(planner, None, title, state)
    assert [text for text in change.by_hand if text.startswith("set amp.lead ")] != []


def test_every_settle_and_gap_is_longer_by_what_the_server_takes() -> None:
    steps = tuple(m.step for m in Planner(BENCH.rig, 0).change(nothing_known(BENCH.rig), *_bench()).messages)
    longer = spaced(steps, 3000)
    assert [s.settle_us for s in longer] == [s.settle_us + 3000 if s.settle_us else 0 for s in steps]
    assert [s.gap_us for s in longer] == [s.gap_us + 3000 if s.gap_us else 0 for s in steps]
    assert [(m.before_us, m.after_us) for m in spaced_rig(BENCH.rig, 3000).mutes] == [(8000, 13000)]


def _bench() -> tuple[str, State]:
    return states_of(BENCH)[-1]


@pytest.mark.parametrize(
    ("api", "period", "extra"),
    [
        ("jack", 1334, 2334),
        ("jack", None, 22_334),
        ("alsa", None, 1000),
        ("core", 50, 1000),
        ("loop", None, 0),
    ],
)
def test_waits_are_longer_by_a_jack_period_and_the_lateness_of_a_message(
    api: str, period: int | None, extra: int
) -> None:
    assert extra_us(api, period) == extra


def test_device_takes_nothing_while_it_settles_even_when_its_message_left_late() -> None:
    one = played(A_RIG.rig, Loop(), extra_us=2000)
    change = chorus(one)
    moments = {m.step.device: m for m in change.messages if m.step.role.value == "recall"}
    next_of = {
        name: min(m.starts_us for m in change.messages if m.step.device == name and m is not recall)
        for name, recall in moments.items()
        if any(m.step.device == name and m is not recall for m in change.messages)
    }
    asked = {name: _settle(name) + 2000 for name in next_of}
    waits = {name: start - moments[name].starts_us - 640 for name, start in next_of.items()}
    assert {name: wait for name, wait in waits.items() if wait < asked[name]} == {}


def _settle(name: str) -> int:
    device = A_RIG.rig.device(name)
    assert device is not None
    assert device.definition.programs is not None
    return device.definition.programs.settle_us


def test_port_in_use_is_refused_and_those_already_open_are_closed() -> None:
    loop = Loop()
    one = played(A_RIG.rig, loop)
    again = open_wires(loop, rig_ports(one.rig, loop.ports()), Gate(said=True))  # type: ignore[arg-type]
    assert not isinstance(again, Wires)
    assert again.text == "`rack`: it is open already"


def test_late_message_is_told() -> None:
    one = on_a_rig()
    delivery = deliver(one.wires, chorus(one), never)
    assert max(delivery.late_ns.values()) < MS


def test_mute_that_left_late_is_told_where_what_it_covers_hangs_on_another_port() -> None:
    one = played(BENCH.rig, Loop())
    title, state = _bench()
    change = one.planner.change(nothing_known(BENCH.rig), title, state)
    on = next(n for n, m in enumerate(change.messages) if m.step.role is Role.MUTE_ON)
    moved = tuple(
        replace(m, step=replace(m.step, port="alone")) if n == on else m
        for n, m in enumerate(change.messages)
    )
    delivery = deliver(one.wires, replace(change, messages=moved), never)
    late = replace(delivery, late_ns={**delivery.late_ns, on: 2 * MS})
    assert [line for line in delivery_said(BENCH.rig, late) if line.startswith("the mute of")] == [
        "the mute of mixer left late: amp may have been heard"
    ]
    assert "left late" not in "".join(delivery_said(BENCH.rig, delivery))
