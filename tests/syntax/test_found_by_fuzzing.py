"""Texts that a fuzzer found to break the tool once."""

from __future__ import annotations

from tests.support import BASE_SHOW, findings, judged

ECHO = "definitions/two-tap-echo.yaml"


def test_a_file_that_ends_after_a_colon_and_a_tab_has_its_finding_at_its_end() -> None:
    assert findings(judged({ECHO: "{c:\t"})) == [
        f"{ECHO}:1:5: error yaml-syntax: the file ends where a value should stand"
    ]


def test_a_control_of_no_kind_is_not_read_further() -> None:
    text = (BASE_SHOW / ECHO).read_text(encoding="utf-8")
    broken = text.replace("kind: switch, cc: 80", "kind: swrepeat:itch, cc: 8rate:0")
    kinds = "`switch`, `choice`, `level`, `time` or `trigger`"
    assert findings(judged({ECHO: broken})) == [
        f"{ECHO}:4:18: error wrong-shape: `swrepeat:itch` is not {kinds}"
    ]


def test_two_keys_misspelt_alike_do_not_become_one_key_twice() -> None:
    song = "song: Lantern\ntempg: Lantern\ntemop: 120\nscenes: {verse: {gate: tight}}\n"
    assert findings(judged({"lantern.yaml": song})) == [
        "lantern.yaml:2:1: error unknown-key: `tempg` is no key of this block",
        "lantern.yaml:2:8: error wrong-shape: `Lantern` is not a number",
        "lantern.yaml:3:1: error unknown-key: `temop` is no key of this block",
    ]
