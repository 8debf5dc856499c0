"""What beats through the server prove."""

from __future__ import annotations

from switchmatrix.live.beats import Beats
from switchmatrix.live.records import WATCH


def test_beat_is_system_exclusive_under_the_non_commercial_id() -> None:
    beats = Beats(WATCH)
    assert [beats.go(0), beats.go(0)] == [bytes.fromhex("F0 7D 00 01 F7"), bytes.fromhex("F0 7D 00 02 F7")]


def test_one_beat_back_proves_nothing_of_what_went_before_it() -> None:
    beats = Beats(WATCH)
    beats.back(beats.go(5))
    assert (beats.proved_ns, beats.back_ns) == (0, 5)


def test_second_beat_back_proves_what_went_before_the_first() -> None:
    beats = Beats(WATCH)
    first, second = beats.go(5), beats.go(9)
    beats.back(first)
    beats.back(second)
    assert (beats.proved_ns, beats.back_ns, beats.missed) == (5, 9, 0)


def test_beat_that_a_later_one_overtakes_is_missed_and_proves_nothing() -> None:
    beats = Beats(WATCH)
    beats.go(5)
    beats.back(beats.go(9))
    assert (beats.proved_ns, beats.missed, beats.all_back()) == (0, 1, True)


def test_beat_that_was_never_sent_is_passed_over() -> None:
    beats = Beats(WATCH)
    beats.go(5)
    beats.back(bytes.fromhex("F0 7D 7F 7F F7"))
    assert beats.all_back() is False


def test_beat_is_missing_once_it_is_out_for_too_long() -> None:
    beats = Beats(WATCH)
    beats.go(1000)
    assert (beats.missing(1000 + WATCH.beat_ns), beats.missing(1001 + WATCH.beat_ns)) == (False, True)


def test_no_beat_is_missing_when_all_are_back() -> None:
    beats = Beats(WATCH)
    beats.back(beats.go(0))
    assert beats.missing(1 << 60) is False


def test_numbers_of_beats_begin_again_after_the_last() -> None:
    beats = Beats(WATCH)
    for _ in range((1 << 14) - 1):
        beats.back(beats.go(0))
    assert beats.go(0) == bytes.fromhex("F0 7D 00 00 F7")


def test_loss_is_told_within_a_quarter_of_a_second() -> None:
    assert max(WATCH.every_ns + WATCH.beat_ns, WATCH.silence_ns) + WATCH.every_ns <= 250_000_000
