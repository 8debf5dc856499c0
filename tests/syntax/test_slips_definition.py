"""Slips in a definition: each brings one finding, and none follows from it in rigs and songs.

Each row changes one piece of the base show:

    # definitions/two-tap-echo.yaml
    definition: two-tap echo
    programs: {count: 128, first: 1, settle: 35 ms, repeat: recalls}
    controls:
      engage: {kind: switch, cc: 80, main: yes}
      mix: {kind: level, cc: 21, range: [0 %, 100 %], codes: [0, 100], stored: yes}
      time: {kind: time, cc: 22, range: [0 ms, 1270 ms], stored: yes}
"""

from __future__ import annotations

import pytest

from tests.syntax.slip import Changed, block, seen_after

SLIPS = (
    Changed(
        "cc: 80",
        "cc: 128",
        """
        definitions/two-tap-echo.yaml:4:30: error number-outside: the CC number is 128; it goes from 0
            to 127
            help: write a number from 0 to 127
        """,
        path="definitions/two-tap-echo.yaml",
    ),
    Changed(
        "cc: 80",
        "cc: 0",
        """
        definitions/two-tap-echo.yaml:4:30: error cc-reserved: CC 0 is no control: it is bank select
            help: look in the maker's implementation chart for the control's own number
        """,
        path="definitions/two-tap-echo.yaml",
    ),
    Changed(
        "cc: 21",
        "cc: 22",
        """
        definitions/two-tap-echo.yaml:6:3: error carrier-twice: `time` and `mix` both have CC 22
            `mix` has it here: definitions/two-tap-echo.yaml:5:3
            help: each control needs its own; look in the maker's implementation chart
        """,
        path="definitions/two-tap-echo.yaml",
    ),
    Changed(
        "cc: 21, ",
        "",
        """
        definitions/two-tap-echo.yaml:5:3: error carrier-wrong: `mix` names no carrier
            help: say how its code travels: `cc: 80`, `nrpn: [1, 8]`, or another of the manual's
                `carriers`
        """,
        path="definitions/two-tap-echo.yaml",
    ),
    Changed(
        "kind: switch",
        "kind: swich",
        """
        definitions/two-tap-echo.yaml:4:18: error wrong-shape: `swich` is not `switch`, `choice`,
            `level`, `time` or `trigger`
            help: write `switch`, `choice`, `level`, `time` or `trigger` for `kind`
        """,
        path="definitions/two-tap-echo.yaml",
    ),
    Changed(
        "kind: level",
        "king: level",
        """
        definitions/two-tap-echo.yaml:5:9: error unknown-key: `king` is no key of this block
            help: did you mean `kind`?
        """,
        path="definitions/two-tap-echo.yaml",
    ),
    Changed(
        "cc: 80",
        "cc:80",
        """
        definitions/two-tap-echo.yaml:4:26: error yaml-syntax: `cc:80` is one word: there is no space
            after its colon
            help: put a space after the colon: `cc: 80`
        """,
        path="definitions/two-tap-echo.yaml",
    ),
    Changed(
        "main: yes",
        "main: true",
        """
        definitions/two-tap-echo.yaml:4:40: error wrong-shape: `true` is not `yes` (or leave the key
            out)
            help: write `yes` (or leave the key out) for `main`
        """,
        path="definitions/two-tap-echo.yaml",
    ),
    Changed(
        "codes: [0, 100], stored: yes",
        "codes: [0, 100], stored: true",
        """
        definitions/two-tap-echo.yaml:5:76: error wrong-shape: `true` is not `yes` (or leave the key
            out)
            help: write `yes` (or leave the key out) for `stored`
        """,
        path="definitions/two-tap-echo.yaml",
    ),
    Changed(
        "range: [0 %, 100 %]",
        "range: [0, 100 %]",
        """
        definitions/two-tap-echo.yaml:5:41: error scale-wrong: the range goes from no unit to %
            help: use one unit
        """,
        path="definitions/two-tap-echo.yaml",
    ),
    Changed(
        "range: [0 %, 100 %]",
        "range: 0-100 %",
        """
        definitions/two-tap-echo.yaml:5:37: error wrong-shape: `0-100 %` is not a list in brackets
            help: write a list in brackets for `range`
        """,
        path="definitions/two-tap-echo.yaml",
    ),
    Changed(
        "range: [0 %, 100 %]",
        "range: [0 %]",
        """
        definitions/two-tap-echo.yaml:5:37: error wrong-shape: `range` has 1 item
            help: write exactly 2
        """,
        path="definitions/two-tap-echo.yaml",
    ),
    Changed(
        "codes: [0, 100]",
        "codes: [0, 128]",
        """
        definitions/two-tap-echo.yaml:5:62: error number-outside: the code is 128; it goes from 0 to 127
            help: write a number from 0 to 127
        """,
        path="definitions/two-tap-echo.yaml",
    ),
    Changed(
        "first: 1",
        "first: one",
        """
        definitions/two-tap-echo.yaml:2:31: error wrong-shape: `one` is not a whole number
            help: write a whole number for `first`
        """,
        path="definitions/two-tap-echo.yaml",
    ),
    Changed(
        "count: 128",
        "count: 129",
        """
        definitions/two-tap-echo.yaml:2:19: error panel-wrong: a program change tells 128 programs
            apart, and `count` is 129
            help: say which bank select the device wants: `bank: cc0`, `cc32` or `both`
        """,
        path="definitions/two-tap-echo.yaml",
    ),
    Changed(
        "settle: 35 ms",
        "settle: 35",
        """
        definitions/two-tap-echo.yaml:2:42: error bad-value: `35` is no time to settle in
            help: write it like `35 ms`
        """,
        path="definitions/two-tap-echo.yaml",
    ),
    Changed(
        "repeat: recalls",
        "repeat: recall",
        """
        definitions/two-tap-echo.yaml:2:57: error bad-value: `recall` does not say what a repeated
            program does
            help: write `recalls`, `nothing`, or `toggles CONTROL`
        """,
        path="definitions/two-tap-echo.yaml",
    ),
    Changed(
        "programs:",
        "program:",
        """
        definitions/two-tap-echo.yaml:2:1: error unknown-key: `program` is no key of this block
            help: did you mean `programs`?
        """,
        path="definitions/two-tap-echo.yaml",
    ),
    Changed(
        "controls:",
        "contols:",
        """
        definitions/two-tap-echo.yaml:3:1: error unknown-key: `contols` is no key of this block
            help: did you mean `controls`?
        """,
        path="definitions/two-tap-echo.yaml",
    ),
)


@pytest.mark.parametrize("change", SLIPS, ids=lambda change: change.new)
def test_a_slip_in_a_definition_brings_one_finding(change: Changed) -> None:
    assert seen_after(change) == block(change.seen)
