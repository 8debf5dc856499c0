"""What a file's bytes may be: UTF-8 text, with or without a byte order mark, in lines of any kind."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.files.kit import SONG, laid, told

SAVE = "save the file as UTF-8"


def test_a_byte_order_mark_is_accepted(tmp_path: Path) -> None:
    show = laid(tmp_path, {"lantern.yaml": b"\xef\xbb\xbfsong: Lantern\nscenes:\n  verse: {gate: tight}\n"})

    assert told(show) == []


def test_a_byte_order_mark_takes_no_column(tmp_path: Path) -> None:
    show = laid(
        tmp_path, {"lantern.yaml": b"\xef\xbb\xbfmark: x\nsong: Lantern\nscenes:\n  verse: {gate: on}\n"}
    )

    assert [place for place, _, _ in told(show)] == [
        "lantern.yaml:1:1 unknown-key",
        "lantern.yaml:4:17 unknown-word",
    ]


@pytest.mark.parametrize("end", [b"\n", b"\r\n", b"\r"], ids=["LF", "CR LF", "CR"])
def test_lines_may_end_as_any_system_ends_them(tmp_path: Path, end: bytes) -> None:
    song = b"song: Lantern\nscenes:\n  verse:\n    remark: in the dark\n    gate: tighd\n"
    show = laid(tmp_path, {"lantern.yaml": song.replace(b"\n", end)})

    assert told(show) == [
        ("lantern.yaml:5:11 unknown-word", "`gate` has no word `tighd`", "did you mean `tight`?")
    ]


def test_a_latin_1_letter_is_shown_at_its_place(tmp_path: Path) -> None:
    show = laid(tmp_path, {"lantern.yaml": b"song: Lant\xe9rn\nscenes:\n  verse: {gate: tight}\n"})

    assert told(show) == [("lantern.yaml:1:11 not-text", "byte 0xe9 is not UTF-8 text", SAVE)]


def test_columns_before_a_bad_byte_count_letters_not_bytes(tmp_path: Path) -> None:
    show = laid(
        tmp_path, {"lantern.yaml": "song: Łódź ".encode() + b"\xff\nscenes:\n  verse: {gate: tight}\n"}
    )

    assert told(show) == [("lantern.yaml:1:12 not-text", "byte 0xff is not UTF-8 text", SAVE)]


def test_utf_16_is_refused_at_its_byte_order_mark(tmp_path: Path) -> None:
    show = laid(tmp_path, {"lantern.yaml": SONG.decode().encode("utf-16")})

    assert [(place, help) for place, _, help in told(show)] == [("lantern.yaml:1:1 not-text", SAVE)]


def test_utf_16_without_a_mark_is_refused_in_one_finding(tmp_path: Path) -> None:
    show = laid(tmp_path, {"lantern.yaml": SONG.decode().encode("utf-16-be")})

    assert [place for place, _, _ in told(show)] == ["lantern.yaml:1:1 not-text"]


# RFC 3629, section 3: surrogates (U+D800 to U+DFFF) and longer forms than need be are no UTF-8.
@pytest.mark.parametrize("broken", [b"\xed\xa0\x80", b"\xc0\xaf"], ids=["a surrogate", "an overlong form"])
def test_bytes_that_utf_8_forbids_are_refused(tmp_path: Path, broken: bytes) -> None:
    show = laid(tmp_path, {"lantern.yaml": b"song: " + broken + b"\nscenes:\n  verse: {gate: tight}\n"})

    assert told(show) == [("lantern.yaml:1:7 not-text", f"byte {broken[0]:#04x} is not UTF-8 text", SAVE)]


def test_a_file_cut_off_inside_a_letter_is_refused_at_its_end(tmp_path: Path) -> None:
    show = laid(tmp_path, {"lantern.yaml": SONG + b"# \xe2\x82"})

    assert told(show) == [("lantern.yaml:4:3 not-text", "byte 0xe2 is not UTF-8 text", SAVE)]


# Unicode 15, chapter 23.1: U+0000 to U+001F, U+007F and U+0080 to U+009F are control codes. Tab, line
# feed and carriage return are the text's own. U+2028 and U+2029 (chapter 5.8) break lines for YAML 1.1
# (section 5.4) but not for editors, so that each line below would be told at a wrong number.
@pytest.mark.parametrize(
    "code",
    [0x00, 0x07, 0x0B, 0x0C, 0x1B, 0x1F, 0x7F, 0x80, 0x85, 0x9B, 0x9F, 0x2028, 0x2029, 0xFFFE, 0xFFFF],
    ids=lambda code: f"U+{code:04X}",
)
def test_a_character_that_no_text_needs_is_refused_at_its_place(tmp_path: Path, code: int) -> None:
    song = f"song: Lantern\nscenes:\n  verse: {{gate: ti{chr(code)}ght}}\n"
    show = laid(tmp_path, {"lantern.yaml": song.encode()})

    assert told(show) == [
        ("lantern.yaml:3:19 not-text", f"character U+{code:04X} does not belong in a text", "delete it")
    ]


@pytest.mark.parametrize(
    ("escape", "code"), [("\\0", 0x00), ("\\a", 0x07), ("\\e", 0x1B), ("\\x9b", 0x9B)], ids=lambda v: str(v)
)
def test_a_control_character_written_as_an_escape_is_refused_too(
    tmp_path: Path, escape: str, code: int
) -> None:
    song = f'song: "Lan{escape}tern"\nscenes:\n  verse: {{gate: tight}}\n'
    show = laid(tmp_path, {"lantern.yaml": song.encode()})

    assert [(place, message) for place, message, _ in told(show)] == [
        ("lantern.yaml:1:7 not-text", f"character U+{code:04X} does not belong in a text")
    ]


def test_letters_of_any_script_are_text(tmp_path: Path) -> None:
    song = "song: Łódź, 灯台, Ѧ, e\u0301\nscenes:\n  verse: {gate: tight, remark: 🎸}\n"
    show = laid(tmp_path, {"lantern.yaml": song.encode()})

    assert [place for place, _, _ in told(show)] == ["lantern.yaml:1:1 transliterated"]
