"""Slips in how a control's code travels: each brings one finding, and none follows from it.

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

PATH = "definitions/two-tap-echo.yaml"
MIX = "cc: 21, range: [0 %, 100 %], codes: [0, 100]"

SLIPS = (
    Changed(
        MIX,
        "program: yes, range: [0 %, 100 %]",
        """
        definitions/two-tap-echo.yaml:5:3: error carrier-wrong: `mix` is a level: it would take every
            program number of the device
            help: a program change carries a switch, choice or trigger
        """,
        PATH,
    ),
    Changed(
        "kind: time, cc: 22",
        "kind: time, program: yes",
        """
        definitions/two-tap-echo.yaml:6:3: error carrier-wrong: `time` is a time: it would take every
            program number of the device
            help: a program change carries a switch, choice or trigger
        """,
        PATH,
    ),
    Changed(
        MIX,
        "cc: 21, nrpn: [1, 8], data: 7, range: [0 %, 100 %]",
        """
        definitions/two-tap-echo.yaml:5:3: error carrier-wrong: `mix` names two carriers
            help: say how its code travels: `cc: 80`, `nrpn: [1, 8]`, or another of the manual's
                `carriers`
        """,
        PATH,
    ),
    Changed(
        MIX,
        "cc14: [21, 22], range: [0 %, 100 %]",
        """
        definitions/two-tap-echo.yaml:6:3: error carrier-twice: `time` and `mix` both have CC 22
            `mix` has it here: definitions/two-tap-echo.yaml:5:3
            help: each control needs its own; look in the maker's implementation chart
        """,
        PATH,
    ),
    Changed(
        MIX,
        "cc14: [80, 21], range: [0 %, 100 %]",
        """
        definitions/two-tap-echo.yaml:5:3: error carrier-twice: `mix` and `engage` both have CC 80
            `engage` has it here: definitions/two-tap-echo.yaml:4:3
            help: each control needs its own; look in the maker's implementation chart
        """,
        PATH,
    ),
    Changed(
        MIX,
        "cc14: [21, 21], range: [0 %, 100 %]",
        """
        definitions/two-tap-echo.yaml:5:22: error carrier-wrong: both halves travel on CC 21
            help: give each its own number
        """,
        PATH,
    ),
    Changed(
        MIX,
        "cc14: [21, 128], range: [0 %, 100 %]",
        """
        definitions/two-tap-echo.yaml:5:33: error number-outside: the CC number is 128; it goes from 0
            to 127
            help: write a number from 0 to 127
        """,
        PATH,
    ),
    Changed(
        MIX,
        "cc14: [21, 38], range: [0 %, 100 %]",
        """
        definitions/two-tap-echo.yaml:5:33: error cc-reserved: CC 38 is no control: it is data entry for
            a parameter number
            help: look in the maker's implementation chart for the control's own number
        """,
        PATH,
    ),
    Changed(
        MIX,
        "cc14: [21], range: [0 %, 100 %]",
        """
        definitions/two-tap-echo.yaml:5:28: error wrong-shape: `cc14` has 1 item
            help: write exactly 2
        """,
        PATH,
    ),
    Changed(
        MIX,
        "nrpn: [1, 8], range: [0 %, 100 %]",
        """
        definitions/two-tap-echo.yaml:5:22: error carrier-wrong: it is not said whether the data is 7
            bits wide (CC 6) or 14 (CC 6 and CC 38)
            help: write `data: 7` or `data: 14`: the maker's chart says the range
        """,
        PATH,
    ),
    Changed(
        MIX,
        "rpn: [0, 0], range: [0 %, 100 %]",
        """
        definitions/two-tap-echo.yaml:5:22: error carrier-wrong: it is not said whether the data is 7
            bits wide (CC 6) or 14 (CC 6 and CC 38)
            help: write `data: 7` or `data: 14`: the maker's chart says the range
        """,
        PATH,
    ),
    Changed(
        MIX,
        "nrpn: [1, 8], data: 8, range: [0 %, 100 %]",
        """
        definitions/two-tap-echo.yaml:5:42: error wrong-shape: `8` is not `7` or `14`
            help: write `7` or `14` for `data`
        """,
        PATH,
    ),
    Changed(
        MIX,
        "nrpn: [1, 128], data: 7, range: [0 %, 100 %]",
        """
        definitions/two-tap-echo.yaml:5:32: error number-outside: half of the parameter's number is 128;
            it goes from 0 to 127
            help: write a number from 0 to 127
        """,
        PATH,
    ),
    Changed(
        MIX,
        "nrpn: [127, 127], data: 7, range: [0 %, 100 %]",
        """
        definitions/two-tap-echo.yaml:5:22: error carrier-wrong: 127, 127 is the null parameter: it sets
            nothing
            help: look up the number
        """,
        PATH,
    ),
    Changed(
        MIX,
        "nrpn: [1, 8], data: 7, close: maybe, range: [0 %, 100 %]",
        """
        definitions/two-tap-echo.yaml:5:52: error wrong-shape: `maybe` is not `yes` or `no`
            help: write `yes` or `no` for `close`
        """,
        PATH,
    ),
    Changed(
        MIX,
        "nrpn: [1, 8], data: 7, range: [0 %, 100 %], codes: [0, 128]",
        """
        definitions/two-tap-echo.yaml:5:77: error number-outside: the code is 128; it goes from 0 to 127
            help: write a number from 0 to 127
        """,
        PATH,
    ),
    Changed(
        MIX,
        "nrpn: [1, 8], data: 14, range: [0 %, 100 %], codes: [0, 16384]",
        """
        definitions/two-tap-echo.yaml:5:78: error number-outside: the code is 16384; it goes from 0 to
            16383
            help: write a number from 0 to 16383
        """,
        PATH,
    ),
    Changed(
        MIX,
        "cc: 21, data: 14, range: [0 %, 100 %], codes: [0, 100]",
        """
        definitions/two-tap-echo.yaml:5:30: error carrier-wrong: `data` goes with `nrpn` or `rpn` only
            help: take it away
        """,
        PATH,
    ),
    Changed(
        MIX,
        "cc: 21, close: yes, range: [0 %, 100 %], codes: [0, 100]",
        """
        definitions/two-tap-echo.yaml:5:30: error carrier-wrong: `close` goes with `nrpn` or `rpn` only
            help: take it away
        """,
        PATH,
    ),
    Changed(
        MIX,
        "cc: 21, release: yes, range: [0 %, 100 %], codes: [0, 100]",
        """
        definitions/two-tap-echo.yaml:5:30: error carrier-wrong: `release` goes with `note` only
            help: take it away
        """,
        PATH,
    ),
    Changed(
        MIX,
        "cc: 21, bank: 2, range: [0 %, 100 %], codes: [0, 100]",
        """
        definitions/two-tap-echo.yaml:5:30: error carrier-wrong: `bank` goes with `program` only
            help: take it away
        """,
        PATH,
    ),
    Changed(
        MIX,
        "note: 60, range: [0 %, 100 %], codes: [0, 100]",
        """
        definitions/two-tap-echo.yaml:5:61: error number-outside: the code is 0; it goes from 1 to 127
            help: write a number from 1 to 127
        """,
        PATH,
    ),
    Changed(
        MIX,
        "note: 128, range: [0 %, 100 %]",
        """
        definitions/two-tap-echo.yaml:5:28: error number-outside: `note` is 128; it goes from 0 to 127
            help: write a number from 0 to 127
        """,
        PATH,
    ),
    Changed(
        MIX,
        "note: C4, range: [0 %, 100 %]",
        """
        definitions/two-tap-echo.yaml:5:28: error wrong-shape: `C4` is not a whole number
            help: write a whole number for `note`
        """,
        PATH,
    ),
    Changed(
        MIX,
        "cc: 21, also-cc: [22], range: [0 %, 100 %], codes: [0, 100]",
        """
        definitions/two-tap-echo.yaml:6:3: error carrier-twice: `time` and `mix` both have CC 22
            `mix` has it here: definitions/two-tap-echo.yaml:5:3
            help: each control needs its own; look in the maker's implementation chart
        """,
        PATH,
    ),
    Changed(
        MIX,
        "cc: 21, also-cc: [23, 0], range: [0 %, 100 %], codes: [0, 100]",
        """
        definitions/two-tap-echo.yaml:5:44: error cc-reserved: CC 0 is no control: it is bank select
            help: look in the maker's implementation chart for the control's own number
        """,
        PATH,
    ),
    Changed(
        MIX,
        "pitch-bend: no, range: [0 %, 100 %]",
        """
        definitions/two-tap-echo.yaml:5:34: error wrong-shape: `no` is not `yes` (or leave the key out)
            help: write `yes` (or leave the key out) for `pitch-bend`
        """,
        PATH,
    ),
    Changed(
        "cc: 80, main",
        "program: yes, bank: 3, main",
        """
        definitions/two-tap-echo.yaml:4:3: error carrier-wrong: `engage` has a `bank`, and the device's
            programs have no bank select
            help: take it away, or say `bank: cc0`, `cc32` or `both` under `programs`
        """,
        PATH,
    ),
    Changed(
        "kind: switch, cc: 80",
        "kind: switch, cc: 80, toggle: {press: 127, release: 0}, codes: {on: 127, off: 0}",
        """
        definitions/two-tap-echo.yaml:4:42: error scale-wrong: a switch has `codes` for on and off, or a
            `toggle`: one of the two
            help: take one away
        """,
        PATH,
    ),
    Changed(
        "kind: switch, cc: 80",
        "kind: switch, cc: 80, powers-up: off",
        """
        definitions/two-tap-echo.yaml:4:45: error scale-wrong: `powers-up` is for a switch that can only
            be flipped
            help: write its `toggle`, or take this away
        """,
        PATH,
    ),
    Changed(
        "kind: switch, cc: 80",
        "kind: switch, cc: 80, toggle: {press: 128, release: 0}",
        """
        definitions/two-tap-echo.yaml:4:50: error number-outside: `press` is 128; it goes from 0 to 127
            help: write a number from 0 to 127
        """,
        PATH,
    ),
    Changed(
        "kind: switch, cc: 80",
        "kind: switch, cc: 80, toggle: {press: 127, release: 128}",
        """
        definitions/two-tap-echo.yaml:4:64: error number-outside: `release` is 128; it goes from 0 to
            127
            help: write a number from 0 to 127
        """,
        PATH,
    ),
    Changed(
        "kind: switch, cc: 80",
        "kind: switch, cc: 80, toggle: {press: 127}",
        """
        definitions/two-tap-echo.yaml:4:34: error missing-key: `toggle` lacks `release`
            help: write it: `release: ...` (a code, or `none`)
        """,
        PATH,
    ),
    Changed(
        "kind: switch, cc: 80",
        "kind: switch, note: 60, toggle: {press: 127, release: 0}",
        """
        definitions/two-tap-echo.yaml:4:66: error number-outside: `release` is 0; it goes from 1 to 127
            help: write a number from 1 to 127
        """,
        PATH,
    ),
    Changed(
        "kind: switch, cc: 80",
        "kind: switch, cc: 80, codes: {on: 0, off: 0}",
        """
        definitions/two-tap-echo.yaml:4:41: error scale-wrong: on and off have one code, 0
            help: give each its own
        """,
        PATH,
    ),
    Changed(
        "kind: switch, cc: 80",
        "kind: switch, cc: 80, settle: 5",
        """
        definitions/two-tap-echo.yaml:4:42: error bad-value: `5` is no time to settle in
            help: write it like `35 ms`
        """,
        PATH,
    ),
    Changed(
        "kind: switch, cc: 80",
        "kind: switch, cc: 80, writes: no",
        """
        definitions/two-tap-echo.yaml:4:42: error wrong-shape: `no` is not `yes` (or leave the key out)
            help: write `yes` (or leave the key out) for `writes`
        """,
        PATH,
    ),
)


@pytest.mark.parametrize("change", SLIPS, ids=lambda change: change.new)
def test_a_slip_in_a_carrier_brings_one_finding(change: Changed) -> None:
    assert seen_after(change) == block(change.seen)
