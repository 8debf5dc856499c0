"""Switches, choices and triggers: words to codes and back, as definitions give them."""

from __future__ import annotations

import pytest

from switchmatrix.controls import decode, encode
from switchmatrix.definition.controls import Control
from switchmatrix.definition.values import Word
from tests.support import findings, judged


def defined(text: str) -> Control:
    """The control of a definition with that one line of settings."""
    show = judged({"definitions/box.yaml": f"definition: box\ncontrols:\n  it: {text}\n"})
    definition = show.model.definitions["box"]
    assert definition is not None
    control = definition.control("it")
    assert control is not None, findings(show)
    return control


# MIDI 1.0 Detailed Specification 4.2.1, p. 11-13: a plain switch is sent as 0 and 127.
def test_switch_is_127_and_0_unless_it_says_otherwise() -> None:
    it = defined("{kind: switch, cc: 80}")
    assert (encode(it, Word("on")), encode(it, Word("off"))) == (127, 0)


@pytest.mark.parametrize(("word", "code"), [("on", 0), ("off", 127)])
def test_switch_may_be_back_to_front(word: str, code: int) -> None:
    it = defined("{kind: switch, cc: 80, codes: {on: 0, off: 127}}")
    assert (encode(it, Word(word)), decode(it, code)) == (code, Word(word))


# (0 + 63) / 2 = 31.5, halves up 32; (64 + 127) / 2 = 95.5, 96; (43 + 84) / 2 = 63.5, 64; one code is its own.
@pytest.mark.parametrize(
    ("codes", "sent"), [("0-63", 32), ("64-127", 96), ("43-84", 64), ("0-42", 21), ("5", 5), ("126-127", 127)]
)
def test_range_of_codes_is_sent_as_its_middle_halves_up(codes: str, sent: int) -> None:
    assert encode(defined(f"{{kind: choice, cc: 30, values: {{it: {codes}}}}}"), Word("it")) == sent


def test_range_of_codes_is_sent_as_the_definition_says() -> None:
    it = defined("{kind: choice, cc: 30, values: {off: 0-63, on: 64-127}, send: {on: 127}}")
    assert (encode(it, Word("off")), encode(it, Word("on"))) == (32, 127)


# MIDI 1.0 Detailed Specification 4.2.1, p. 11-13: a receiver reads 0-63 as off and 64-127 as on.
@pytest.mark.parametrize(("code", "word"), [(0, "off"), (63, "off"), (64, "on"), (127, "on")])
def test_any_code_of_a_range_means_its_word(code: int, word: str) -> None:
    assert decode(defined("{kind: choice, cc: 30, values: {off: 0-63, on: 64-127}}"), code) == Word(word)


def test_code_between_the_words_means_nothing() -> None:
    assert decode(defined("{kind: choice, cc: 30, values: {tape: 0, clean: 2}}"), 1) is None


@pytest.mark.parametrize(("codes", "code"), [("", 127), (", codes: {fire: 90}", 90)])
def test_trigger_fires_with_its_code(codes: str, code: int) -> None:
    assert encode(defined(f"{{kind: trigger, cc: 102{codes}}}"), Word("now")) == code


def test_word_that_the_control_has_not_got_has_no_code() -> None:
    with pytest.raises(KeyError):
        encode(defined("{kind: switch, cc: 80}"), Word("half"))
