"""How losses and refusals read."""

from __future__ import annotations

from switchmatrix.live.records import Lost, Refused


def test_loss_says_what_is_certain_and_what_is_unknown() -> None:
    lost = Lost("main", "the MIDI server no longer answers", 4, 9)
    assert lost.text == (
        "`main` is lost: the MIDI server no longer answers; certain up to message 4, unknown to 9"
    )


def test_loss_with_nothing_unknown_says_only_what_is_certain() -> None:
    assert Lost("main", "its process ended", 4, 4).text == (
        "`main` is lost: its process ended; certain up to message 4"
    )


def test_refusal_names_its_port() -> None:
    assert Refused("main", "JACK does not answer").text == "`main`: JACK does not answer"
