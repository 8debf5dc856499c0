"""Feet: one press is one step."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from switchmatrix.live.stepping.feet import Pressed, Treads, hears, tread
from switchmatrix.live.stepping.inputs import Again, Back, JumpToScene, Next
from switchmatrix.midi.numbers import ChannelNumber
from switchmatrix.model.rig import Feet, Pedal, PedalStep, Tread
from switchmatrix.simulate.stream import heard
from switchmatrix.source import Span

HERE = Span("rigs/a-rig.yaml", 1, 1, 1, 1)


def pedal(does: PedalStep | int, kind: Tread, number: int, least: int = 64, releases: bool = True) -> Pedal:
    """A pedal on channel 16 of the rack."""
    return Pedal(does, "rack", ChannelNumber(16), kind, number, least, releases, HERE)


FEET = Feet(
    (
        pedal(PedalStep.NEXT, Tread.CC, 64),
        pedal(PedalStep.BACK, Tread.NOTE, 36, least=1),
        pedal(PedalStep.AGAIN, Tread.PROGRAM, 4, releases=False),
        pedal(3, Tread.CC, 65, releases=False),
    ),
    250_000,
    HERE,
)


def steps(*heard_at: tuple[float, str], port: str = "rack") -> list[tuple[float, Pressed]]:
    """The steps that messages make, each with its milliseconds."""
    treads, out = Treads(), []
    for ms, text in heard_at:
        for event in heard(bytes.fromhex(text)):
            treads, pressed = tread(FEET, treads, port, event, round(ms * 1000))
            out += [(ms, pressed)] if pressed is not None else []
    return out


def test_a_press_and_its_release_are_one_step() -> None:
    assert steps((0, "BF 40 7F"), (300, "BF 40 00")) == [(0, Next())]


def test_two_presses_are_two_steps() -> None:
    assert steps((0, "BF 40 7F"), (100, "BF 40 00"), (300, "BF 40 7F")) == [(0, Next()), (300, Next())]


def test_a_held_cc_that_is_sent_over_and_over_is_one_step() -> None:
    assert steps(*((100 * n, "BF 40 7F") for n in range(50))) == [(0, Next())]


def test_a_pedal_that_is_trodden_down_slowly_is_one_step_at_its_threshold() -> None:
    values = (0, 20, 63, 64, 90, 127, 126, 80)
    assert steps(*((400 * n, f"BF 40 {value:02X}") for n, value in enumerate(values))) == [(1200, Next())]


@pytest.mark.parametrize(("value", "expected"), [("3F", []), ("40", [(0, Next())])])
def test_a_pedal_is_down_from_its_threshold_on(value: str, expected: list[tuple[float, Pressed]]) -> None:
    assert steps((0, f"BF 40 {value}")) == expected


def test_ten_milliseconds_of_bounce_at_the_press_are_one_step() -> None:
    bounce = [(n, f"BF 40 {'7F' if n % 2 == 0 else '00'}") for n in range(11)]
    assert steps(*bounce, (400, "BF 40 00")) == [(0, Next())]


def test_ten_milliseconds_of_bounce_at_the_release_are_no_step() -> None:
    bounce = [(2000 + n, f"BF 40 {'00' if n % 2 == 0 else '7F'}") for n in range(11)]
    assert steps((0, "BF 40 7F"), *bounce) == [(0, Next())]


@pytest.mark.parametrize(("gap", "count"), [(10, 1), (10.001, 2)])
def test_a_contact_that_makes_again_within_a_bounce_is_no_step(gap: float, count: int) -> None:
    assert len(steps((0, "BF 40 7F"), (2000, "BF 40 00"), (2000 + gap, "BF 40 7F"))) == count


@pytest.mark.parametrize(("at", "count"), [(249.999, 1), (250, 2)])
def test_a_second_press_within_the_rest_is_no_step(at: float, count: int) -> None:
    assert len(steps((0, "BF 40 7F"), (100, "BF 40 00"), (at, "BF 40 7F"))) == count


# A Note On of velocity 0 is a Note Off (MIDI 1.0 Detailed Specification 4.2.1, p. 10).
@pytest.mark.parametrize("release", ["9F 24 00", "8F 24 40"])
def test_a_note_steps_when_struck_and_not_when_let_go(release: str) -> None:
    assert steps((0, "9F 24 50"), (300, release), (600, "9F 24 50")) == [(0, Back()), (600, Back())]


def test_a_note_struck_again_without_being_let_go_is_one_step() -> None:
    assert steps((0, "9F 24 50"), (500, "9F 24 50")) == [(0, Back())]


def test_a_program_has_no_release_and_steps_each_time() -> None:
    assert steps((0, "CF 04"), (249, "CF 04"), (600, "CF 04")) == [(0, Again()), (600, Again())]


def test_a_pedal_that_never_says_that_it_is_let_go_steps_each_time() -> None:
    assert steps((0, "BF 41 7F"), (300, "BF 41 7F")) == [(0, JumpToScene(3)), (300, JumpToScene(3))]


def test_two_pedals_do_not_wait_for_each_other() -> None:
    assert steps((0, "BF 40 7F"), (50, "9F 24 50")) == [(0, Next()), (50, Back())]


@pytest.mark.parametrize("text", ["BE 40 7F", "BF 42 7F", "9F 25 50", "CF 05", "FF 40 24", "F8", "EF 40 7F"])
def test_other_messages_are_no_steps(text: str) -> None:
    assert steps((0, text)) == []


def test_another_port_is_no_step() -> None:
    assert steps((0, "BF 40 7F"), port="floor") == []


@given(
    gaps=st.lists(st.integers(0, 9), min_size=1, max_size=12),
    held=st.integers(300, 5000),
)
def test_a_press_with_any_bounce_at_both_ends_is_one_step(gaps: list[int], held: int) -> None:
    at, down, row = 0.0, True, [(0.0, "BF 40 7F")]
    for gap in gaps:
        at, down = at + gap, not down
        row.append((at, f"BF 40 {'7F' if down else '00'}"))
    row.append((at + 1, "BF 40 7F"))
    at += held
    for gap in gaps:
        at, down = at + gap, not down
        row.append((at, f"BF 40 {'7F' if down else '00'}"))
    assert len([one for one in steps(*row) if one[0] < 250 or one[0] >= held]) == 1


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("BF 40 7F", "rack, channel 16: CC 64 at 127"),
        ("90 24 50", "rack, channel 1: note 36 at 80"),
        ("90 24 00", "rack, channel 1: note 36 let go"),
        ("80 24 40", "rack, channel 1: note 36 let go"),
        ("C2 04", "rack, channel 3: program 5"),
        ("E0 00 40", "rack, channel 1: pitch bend at 8192"),
        ("D0 05", "rack, channel 1: channel pressure at 5"),
        ("A0 24 05", "rack, channel 1: pressure of note 36 at 5"),
        ("F8", None),
    ],
)
def test_what_is_heard_is_told_in_the_words_of_a_rig_file(text: str, expected: str | None) -> None:
    assert [hears("rack", event) for event in heard(bytes.fromhex(text))] == [expected]
