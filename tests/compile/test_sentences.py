"""A message as a person reads it: what it means, and the line that it is listed in."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from switchmatrix.compile import meaning
from switchmatrix.compile.schedule import Timed
from switchmatrix.compile.sentence import hex_text, sentences
from switchmatrix.compile.step import Step
from switchmatrix.definition.carriers import ProgramCarrier
from switchmatrix.definition.controls import Toggle
from switchmatrix.definition.values import Quantity, Value, Word
from switchmatrix.midi.numbers import Address, WireBank, WireProgram
from switchmatrix.model.settings import Patch, Stored
from switchmatrix.source import Span
from switchmatrix.states.state import AsPatch, Origin, Set
from tests.controls.making import choice, time

HERE = Span("lantern.yaml", 7, 3, 7, 9)
ORIGIN = Origin(HERE, "scene verse", "echo.time: 1/8")
TIME = time((0, "0"), (127, "1270"))
MODE = choice(tape=(0, 42, 21), clean=(43, 84, 64))
ASKED, GETS = Quantity(Fraction("468.75"), "ms"), Quantity(Fraction(469), "ms")


def cliff(*stores: tuple[str, Stored]) -> Patch:
    """A patch called `cliff` that the panel shows as 17."""
    return Patch("cliff", "17", Address(WireBank(0), WireProgram(16)), stores, HERE)


def stored(asked: Value, gets: Value) -> tuple[str, Stored]:
    """What a patch is said to store for the control `it`."""
    return ("it", Stored(47, asked, gets, HERE))


def test_a_recall_names_its_patch_as_the_panel_shows_it() -> None:
    assert meaning.recalls(cliff()) == "recalls cliff (panel 17)"


def test_a_value_that_is_met_is_said_once() -> None:
    assert meaning.sets(TIME, Set(47, GETS, GETS, ORIGIN)) == "sets it to 469 ms"


def test_a_value_that_is_missed_is_said_as_asked_and_as_it_comes() -> None:
    assert meaning.sets(TIME, Set(47, ASKED, GETS, ORIGIN)) == "sets it: asked 468.75 ms, gets 469 ms"


def test_a_value_as_the_patch_stores_it_names_the_patch() -> None:
    value = AsPatch(cliff(stored(GETS, GETS)), 47, GETS, ORIGIN)
    assert meaning.sets(TIME, value) == "sets it to 469 ms, as cliff stores it"


def test_a_value_that_the_patch_stores_otherwise_than_asked_says_both() -> None:
    value = AsPatch(cliff(stored(ASKED, GETS)), 47, GETS, ORIGIN)
    assert meaning.sets(TIME, value) == "sets it: asked 468.75 ms, gets 469 ms, as cliff stores it"


def test_a_value_of_a_patch_that_is_not_said_to_store_it_is_said_once() -> None:
    value = AsPatch(cliff(), 47, GETS, ORIGIN)
    assert meaning.sets(TIME, value) == "sets it to 469 ms, as cliff stores it"


def test_a_value_that_travels_as_a_program_says_which_on_the_wire() -> None:
    control = replace(MODE, carrier=ProgramCarrier(None))
    assert meaning.sets(control, Set(64, Word("clean"), Word("clean"), ORIGIN)) == (
        "sets it to clean (wire program 64)"
    )


def test_a_missed_value_that_travels_as_a_program_says_which_on_the_wire() -> None:
    control = replace(TIME, carrier=ProgramCarrier(None))
    assert meaning.sets(control, Set(47, ASKED, GETS, ORIGIN)) == (
        "sets it: asked 468.75 ms, gets 469 ms (wire program 47)"
    )


def test_a_toggle_flips_and_its_press_is_what_travels() -> None:
    control = replace(MODE, carrier=ProgramCarrier(None), toggle=Toggle(9, None, True))
    assert meaning.sets(control, Set(1, Word("on"), Word("on"), ORIGIN)) == "flips it to on (wire program 9)"


def test_a_toggle_flips_to_what_the_patch_stores() -> None:
    control = replace(MODE, toggle=Toggle(127, 0, True))
    on = AsPatch(cliff(stored(Word("on"), Word("on"))), 1, Word("on"), ORIGIN)
    assert meaning.sets(control, on) == "flips it to on, as cliff stores it"


def test_a_hold_says_where_it_holds() -> None:
    assert meaning.holds(MODE, "on") == "holds it at on"


def test_a_trigger_fires() -> None:
    assert meaning.fires(MODE) == "fires it"


@pytest.mark.parametrize(("of", "said"), [(1, "fires it"), (4, "fires it (1 of 4)")])
def test_a_unit_of_several_messages_counts_them(of: int, said: str) -> None:
    assert meaning.part("fires it", 1, of) == said


def message(device: str, text: str, data: bytes, starts_us: int, lands_us: int, line: int) -> Timed:
    """A message to channel 3 of the rack, and the line that says so."""
    span = Span("lantern.yaml", line, 3, line, 9)
    return Timed(Step(device, "rack", 3, data, text, 0, span, "scene verse", ""), starts_us, lands_us)


def test_bytes_are_written_in_pairs() -> None:
    assert hex_text(bytes((0xC2, 0x0A))) == "C2 0A"


def test_times_are_rounded_to_a_tenth_of_a_millisecond() -> None:
    late = message("echo", "fires bell", bytes((0xB2, 0x14, 0x7F)), 600_000, 600_960, 7)
    (line,) = sentences([late])
    assert line.startswith("+600.0 to +601.0 ms  echo")


def test_nothing_sent_is_no_line() -> None:
    assert sentences([]) == []


def test_the_columns_of_messages_stand_below_each_other() -> None:
    recall = message("echo", "recalls cliff (panel 17)", bytes((0xC2, 0x10)), -1300, 10640, 7)
    fader = message("mixer", "sets mix to 40 %", bytes((0xB2, 0x14, 0x33)), 640, 1600, 12)
    assert sentences([recall, fader]) == [
        "-1.3 to +10.6 ms  echo recalls cliff (panel 17)  rack ch 3  C2 10     lantern.yaml:7",
        "+0.6 to +1.6 ms   mixer sets mix to 40 %         rack ch 3  B2 14 33  lantern.yaml:12",
    ]
