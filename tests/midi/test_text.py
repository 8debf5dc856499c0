"""Text in MIDI files."""

from __future__ import annotations

import pytest

from switchmatrix.midi.text import holds, latin


# RP-001 p. 8 advises printable ASCII; its successors and their readers take Latin-1 (common practice).
@pytest.mark.parametrize("text", ["Ebb", "The Keeper's Log", "~ !", "Gannet Möwe Größe", "ÿ½£"])
def test_text_that_latin_1_holds_stays_as_it_is(text: str) -> None:
    assert (holds(text), latin(text)) == (True, text.encode("latin-1"))


@pytest.mark.parametrize(
    ("text", "written"),
    [
        ("Łódka", b"L\xf3dka"),
        ("Přístav", b"Pr\xedstav"),
        ("Œuvre", b"OEuvre"),
        ("low water \u2013 \u201cebb\u201d", b'low water - "ebb"'),
        ("the keeper\u2019s log\u2026", b"the keeper's log..."),
        ("\ufb01n", b"fin"),
        ("\u6d77", b"?"),
        ("a \u6d77\u6d77 b", b"a ?? b"),
    ],
)
def test_text_that_latin_1_does_not_hold_is_written_plainly(text: str, written: bytes) -> None:
    assert (holds(text), latin(text)) == (False, written)


@pytest.mark.parametrize(
    ("text", "written"), [("two\nlines", b"two lines"), ("a\tb", b"a b"), ("bell\x07", b"bell ")]
)
def test_control_characters_become_spaces(text: str, written: bytes) -> None:
    assert latin(text) == written
