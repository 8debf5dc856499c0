"""The line check on a rig made of software: what goes first, who is asked, and what it ends in."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from switchmatrix.controls import decode
from switchmatrix.definition.definition import Identity
from switchmatrix.live.identity import REQUEST
from switchmatrix.live.line_check.check import LineCheck
from switchmatrix.live.line_check.found import Wanted
from switchmatrix.live.line_check.records import Report, Verdict
from switchmatrix.live.line_check.text import report_text
from switchmatrix.live.loop import Loop
from switchmatrix.live.stand_in.faults import Faults
from switchmatrix.live.stepping.prepared import home_state
from switchmatrix.model.rig import Rig
from tests.live.rigs import NONE, Played, astray, played, run_on, states_of

BENCH = run_on("bench")
SILENCE = dict(states_of(BENCH))["standing silence"]
HOME = home_state(BENCH.rig)[0]


@dataclass(slots=True)
class Person:
    """Says yes to everything, and keeps what was asked."""

    asked: list[str] = field(default_factory=list)

    def __call__(self, _device: str, question: str) -> bool:
        self.asked.append(question)
        return True


def tell(_line: str) -> None:
    """Nobody listens."""


def wanted() -> Wanted:
    """All of the bench."""
    assert HOME is not None
    names = tuple(device.name for device in BENCH.rig.devices)
    return Wanted(names, frozenset(), SILENCE, HOME, ("home", HOME))


def checked(one: Played, person: Person | None = None) -> LineCheck:
    """A check of the bench, gone through."""
    check = LineCheck(one.planner, one.wires, wanted(), decode, lambda: False)
    check.run(tell, person)
    return check


def on_bench(faults: Faults = NONE, rig: Rig = BENCH.rig) -> Played:
    """The bench's planner and wires, with the boxes of `rig` behind them."""
    one = played(rig, Loop(), faults)
    return replace(one, rig=BENCH.rig, planner=played(BENCH.rig, Loop()).planner)


def test_first_thing_sent_is_what_silence_itself_says() -> None:
    one = on_bench()
    checked(one)
    assert [tap.kept[0].hex(" ").upper() for name, tap in one.taps.items() if name == "bench"] == ["BB 66 7F"]


def test_ports_with_a_return_are_asked_five_times_and_no_others() -> None:
    one = on_bench()
    checked(one)
    asked = {name: tap.kept.count(REQUEST) for name, tap in one.taps.items()}
    assert asked == {"bench": 5, "shelf": 5, "alone": 0}


def test_rig_ends_in_its_home_state() -> None:
    one = on_bench()
    assert checked(one, Person()).found.broken is None
    assert HOME is not None
    assert astray(one.box, HOME) == []


def test_only_what_cannot_answer_is_looked_at() -> None:
    person = Person()
    checked(on_bench(), person)
    looked = [question.partition(" ")[0] for question in person.asked]
    able = {device.name for device in BENCH.rig.devices if device.definition.identity is not None}
    assert looked == [device.name for device in BENCH.rig.devices if device.name not in able]


def test_box_that_is_not_in_the_map_is_told() -> None:
    stranger = replace(
        BENCH.rig.devices[0],
        name="stranger",
        id=9,
        definition=replace(BENCH.rig.devices[0].definition, identity=Identity((0, 127, 126), 5, 6, None)),
    )
    rig = replace(BENCH.rig, devices=(*BENCH.rig.devices, stranger))
    found = checked(on_bench(rig=rig)).found
    assert found.strangers == [
        "on bench a box answers that is not in the map: "
        "maker 00 7F 7E, family 5, member 6, version 0.0.0.0, device id 9"
    ]


def test_lost_port_ends_the_check_and_what_it_had_not_come_to_is_not_checked() -> None:
    loop = Loop()
    one = played(BENCH.rig, loop)

    def cut(_device: str, _question: str) -> bool:
        loop.cut()
        return True

    check = LineCheck(one.planner, one.wires, wanted(), decode, lambda: False)
    check.run(tell, cut)
    results, _ = check.found.report(BENCH.rig, wanted())
    left = [result.device for result in results if result.verdict is Verdict.NOT_CHECKED]
    assert check.found.broken is not None
    assert left == [device.name for device in BENCH.rig.devices[1:] if device.definition.identity is None]


def test_report_of_a_stand_in_says_so_in_every_line() -> None:
    results, chains = checked(on_bench()).found.report(BENCH.rig, wanted())
    report = Report("Tidewrack", "bench", "2026-11-25T10:00:00+00:00", True, results, chains)
    assert [line for line in report_text(report).splitlines() if not line.startswith("stand-in:")] == []


def test_check_that_was_broken_off_has_not_passed() -> None:
    results, _ = checked(on_bench(), Person()).found.report(BENCH.rig, wanted())
    whole = Report("Tidewrack", "bench", "now", True, results)
    assert (whole.passed, replace(whole, whole=False).passed) == (True, False)
