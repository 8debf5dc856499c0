"""Messages that left late: the next step is planned from when they left."""

from __future__ import annotations

from switchmatrix.compile.schedule import Timed
from switchmatrix.live.stepping.actions import Send
from switchmatrix.live.stepping.inputs import Back, Done, Input, Late, Next, OutputsMuted, Silence
from tests.live.stepping.kit import SHOW, Rehearsal

RIG = "a-rig"
LATE_US = 20_000
RECALL_US = 2 * 320 + 35_000
"""Two bytes on a DIN wire at 320 microseconds each (MIDI 1.0 Detailed Specification 4.2.1, p. 1), and the
settle of the echo."""


def sent(rehearsal: Rehearsal, input: Input) -> Send:
    """The send that follows."""
    return next(one for one in rehearsal.take(input) if isinstance(one, Send))


def recall(send: Send) -> Timed:
    """The echo's program change."""
    return next(one for one in send.messages if one.step.data[0] == 0xC0)


def stepped() -> tuple[Rehearsal, Send]:
    """A rehearsal with the send of a step that recalls on the echo, under way."""
    rehearsal = Rehearsal(SHOW)
    rehearsal.take(OutputsMuted())
    rehearsal.finish()
    rehearsal.at_us = 1_000_000
    return rehearsal, sent(rehearsal, Next())


def late(send: Send) -> Late:
    """The send's recall has left late."""
    return Late(RIG, "rack", send.send, recall(send).starts_us, LATE_US)


def first(send: Send, device: str) -> int:
    """When a device's first message of a send leaves."""
    return next(one.starts_us for one in send.messages if one.step.device == device)


def test_next_step_leaves_a_device_as_long_as_it_needs_from_when_its_last_message_left() -> None:
    rehearsal, send = stepped()
    rehearsal.take(late(send))
    last = max(one.lands_us for one in send.messages if one.step.device == "echo")
    assert first(sent(rehearsal, Back()), "echo") >= last + LATE_US


def test_what_hangs_on_another_port_waits_for_nothing_more() -> None:
    rehearsal, send = stepped()
    rehearsal.take(late(send))
    last = max(one.lands_us for one in send.messages if one.step.port == "floor")
    assert first(sent(rehearsal, Back()), "amp") == last


def test_what_a_late_recall_covers_keeps_its_mute_until_it_has_settled() -> None:
    rehearsal, send = stepped()
    rehearsal.take(late(send))
    again = sent(rehearsal, Back())
    let_go = recall(send).starts_us + LATE_US + RECALL_US
    assert first(again, "mixer") >= let_go


def test_silence_waits_for_a_late_recall_that_has_begun_when_the_rest_is_dropped() -> None:
    rehearsal, send = stepped()
    rehearsal.take(late(send))
    left = recall(send).starts_us + LATE_US
    rehearsal.at_us = left
    assert first(sent(rehearsal, Silence()), "echo") >= left + RECALL_US


def test_recall_that_is_late_and_has_not_begun_is_dropped_and_waited_for_by_nobody() -> None:
    rehearsal, send = stepped()
    rehearsal.take(late(send))
    rehearsal.at_us = recall(send).starts_us + LATE_US // 2
    assert first(sent(rehearsal, Silence()), "echo") < recall(send).starts_us + LATE_US + RECALL_US


def test_lateness_of_a_send_that_is_through_counts_as_well() -> None:
    rehearsal, send = stepped()
    rehearsal.take(Done(RIG, send.send))
    rehearsal.take(late(send))
    last = max(one.lands_us for one in send.messages if one.step.device == "echo")
    assert first(sent(rehearsal, Back()), "echo") >= last + LATE_US


def test_a_send_that_was_handed_before_another_was_late_goes_later_too() -> None:
    rehearsal, send = stepped()
    behind = sent(rehearsal, Back())
    rehearsal.take(late(send))
    (_, pending) = rehearsal.state.rig(RIG).pending
    was = [one.starts_us for one in behind.messages]
    moved = [LATE_US if one.step.port == "rack" else 0 for one in behind.messages]
    assert [one.starts_us for one in pending.messages] == [a + b for a, b in zip(was, moved, strict=True)]
    assert pending.busy_before.ports["rack"] == max(
        one.lands_us + LATE_US for one in send.messages if one.step.port == "rack"
    )


def test_the_log_says_what_was_late() -> None:
    rehearsal, send = stepped()
    rehearsal.take(late(send))
    assert rehearsal.logged()[-1] == {
        "event": "late",
        "rig": RIG,
        "port": "rack",
        "send": send.send,
        "by_us": LATE_US,
    }
