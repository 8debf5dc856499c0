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
