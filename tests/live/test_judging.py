"""Replies to verdicts: who answered, who differs, who is silent, and who is not in the map."""

from __future__ import annotations

from dataclasses import replace

from switchmatrix.definition.definition import Definition, Identity
from switchmatrix.live.identity import Reply
from switchmatrix.live.line_check.chain import chains
from switchmatrix.live.line_check.judging import judge
from switchmatrix.live.line_check.records import Result, Round, Timed, Verdict
from switchmatrix.live.records import MS
from switchmatrix.model.rig import Device, Rig
from tests.live.rigs import run_on

BENCH: Rig = run_on("bench").rig
WHO = Identity((0x7D,), 1, 2, (0, 0, 1, 0))
OTHER = Identity((0x7D,), 1, 9, (0, 0, 1, 0))
STRANGER = Identity((0x00, 0x7F, 0x7E), 5, 6, (1, 0, 0, 0))


def device(name: str, id: int | None = None, gang: int = 1, who: Identity | None = WHO) -> Device:
    """A device of the bench under another name, with that identity."""
    base = BENCH.devices[0]
    definition: Definition = replace(base.definition, identity=who)
    return replace(base, name=name, definition=definition, id=id, gang=gang)


def came(*replies: tuple[int, Identity], after_ms: int = 5) -> Round:
    """What one request brought."""
    return Round(tuple(Timed(Reply(id, who), after_ms * MS) for id, who in replies))


def verdicts(devices: list[Device], *rounds: Round) -> list[tuple[Verdict, str]]:
    """Each device's verdict and why."""
    return [(one.verdict, one.said) for one in judge(devices, rounds)[0]]


def test_device_that_answers_as_its_definition_says_answers() -> None:
    assert verdicts([device("echo")], came((3, WHO))) == [(Verdict.ANSWERS, "version 0.0.1.0")]


def test_round_trip_is_least_median_and_worst_of_all_rounds() -> None:
    rounds = [came((0, WHO), after_ms=ms) for ms in (9, 4, 5)]
    trip = judge([device("echo")], rounds)[0][0].trip
    assert str(trip) == "round trip 4.0 / 5.0 / 9.0 ms (least, median, worst of 3)"


def test_device_of_another_version_differs() -> None:
    newer = replace(WHO, version=(0, 0, 2, 0))
    said = "expected version 0.0.1.0; came version 0.0.2.0"
    assert verdicts([device("echo")], came((0, newer))) == [(Verdict.DIFFERS, said)]


def test_any_version_will_do_where_the_definition_leaves_it_open() -> None:
    open_one = device("echo", who=replace(WHO, version=None))
    assert verdicts([open_one], came((0, WHO))) == [(Verdict.ANSWERS, "version 0.0.1.0")]


def test_another_model_of_the_maker_differs() -> None:
    said = (
        "expected maker 7D, family 1, member 2, version 0.0.1.0; "
        "came maker 7D, family 1, member 9, version 0.0.1.0"
    )
    assert verdicts([device("echo")], came((0, OTHER))) == [(Verdict.DIFFERS, said)]


def test_right_model_with_another_id_differs() -> None:
    said = "expected device id 16; came device id 3"
    assert verdicts([device("echo", id=16)], came((3, WHO))) == [(Verdict.DIFFERS, said)]


def test_twins_are_told_apart_by_their_ids() -> None:
    twins = [device("left", id=1), device("right", id=2)]
    assert [verdict for verdict, _ in verdicts(twins, came((2, WHO)))] == [Verdict.SILENT, Verdict.ANSWERS]


def test_one_silent_twin_that_nothing_tells_apart_may_be_either() -> None:
    said = verdicts([device("left"), device("right")], came((0, WHO)))
    assert said[0] == (
        Verdict.SILENT,
        "one of left and right is silent, and nothing tells them apart: give each its `id`",
    )
    assert said[1][0] is Verdict.SILENT


def test_gang_answers_as_often_as_it_has_boxes() -> None:
    assert verdicts([device("pair", gang=2)], came((0, WHO), (0, WHO)))[0][0] is Verdict.ANSWERS


def test_gang_with_a_dead_box_differs() -> None:
    said = (Verdict.DIFFERS, "expected 2 replies, came 1")
    assert verdicts([device("pair", gang=2)], came((0, WHO))) == [said]


def test_device_that_answers_twice_differs() -> None:
    said = (Verdict.DIFFERS, "expected 1 reply, came 2")
    assert verdicts([device("echo")], came((0, WHO), (0, WHO))) == [said]


def test_device_that_says_nothing_is_silent() -> None:
    assert verdicts([device("echo")], came()) == [(Verdict.SILENT, "no reply within 500 ms")]


def test_device_that_answers_after_the_time_out_is_silent_and_its_reply_is_told() -> None:
    late = Round((), late=(Timed(Reply(0, WHO), 812 * MS),))
    said = "no reply within 500 ms; one came after 812 ms"
    assert verdicts([device("echo")], late) == [(Verdict.SILENT, said)]


def test_device_that_answers_now_and_then_does_not_pass() -> None:
    rounds = (came((0, WHO)), came(), came((0, WHO)))
    assert verdicts([device("echo")], *rounds) == [(Verdict.SILENT, "answered 2 of 3 times")]


def test_box_that_is_not_in_the_map_is_told_once() -> None:
    _, strangers = judge([device("echo")], [came((0, WHO), (9, STRANGER)), came((0, WHO), (9, STRANGER))])
    assert strangers == ["maker 00 7F 7E, family 5, member 6, version 1.0.0.0, device id 9"]


def result(name: str, verdict: Verdict) -> Result:
    """A verdict on a device of the bench."""
    device = BENCH.device(name)
    assert device is not None
    return Result(name, device.port, verdict, "")


def on_shelf(**verdicts: Verdict) -> list[Result]:
    """The bench's shelf: acoustic feeds filter, filter feeds pedal; board has a lead of its own."""
    return [result(name, verdict) for name, verdict in verdicts.items()]


def test_silence_from_one_point_of_a_chain_on_is_one_finding() -> None:
    found = chains(
        BENCH,
        on_shelf(
            acoustic=Verdict.ANSWERS, filter=Verdict.SILENT, pedal=Verdict.EYE_NO, board=Verdict.EYE_YES
        ),
    )
    where = "look at its power and at the cable from the thru of acoustic"
    assert found == (f"from filter on nothing responds (filter, pedal): {where}",)


def test_dead_device_with_one_alive_behind_it_is_no_chain() -> None:
    found = chains(
        BENCH,
        on_shelf(acoustic=Verdict.SILENT, filter=Verdict.EYE_YES, pedal=Verdict.EYE_YES),
    )
    assert found == ()


def test_port_on_which_nothing_responds_is_one_finding() -> None:
    found = chains(BENCH, on_shelf(acoustic=Verdict.SILENT, filter=Verdict.EYE_NO, pedal=Verdict.NOT_CHECKED))
    assert found == ("nothing on shelf responds: look at the interface and at its first cable",)
