"""Slips in what a control's codes mean: each brings one finding, and none follows from it.

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
        "range: [0 %, 100 %]",
        "range: [100 %, 0 %]",
        """
        definitions/two-tap-echo.yaml:5:38: error scale-wrong: the range goes from 100 % to 0 %
            help: write the lower end first
        """,
        PATH,
    ),
    Changed(
        "range: [0 %, 100 %]",
        "range: [0 %, 0 %]",
        """
        definitions/two-tap-echo.yaml:5:38: error scale-wrong: the range goes from 0 % to 0 %
            help: write the lower end first
        """,
        PATH,
    ),
    Changed(
        "range: [0 ms, 1270 ms]",
        "range: [0 ms, 1270 Hz]",
        """
        definitions/two-tap-echo.yaml:6:44: error scale-wrong: the range goes from ms to Hz
            help: use one unit
        """,
        PATH,
    ),
    Changed(
        "range: [0 ms, 1270 ms]",
        "range: [0 %, 1270 ms]",
        """
        definitions/two-tap-echo.yaml:6:38: error bad-value: `0 %` is no bound of a range
            help: write it like `0 ms` or `2 s`
        """,
        PATH,
    ),
    Changed(
        "codes: [0, 100]",
        "codes: [7, 7]",
        """
        definitions/two-tap-echo.yaml:5:59: error scale-wrong: both ends of the range have one code
            help: give each its own
        """,
        PATH,
    ),
    Changed(
        "codes: [0, 100]",
        "centre: 64",
        """
        definitions/two-tap-echo.yaml:5:59: error scale-wrong: the centre code 64 must lie between the
            codes, and 0 within the range
            help: mend one of them
        """,
        PATH,
    ),
    Changed(
        "codes: [0, 100]",
        "bottom: 0",
        """
        definitions/two-tap-echo.yaml:5:3: error scale-wrong: a bottom is `-inf dB`, and `mix` is in %
            help: take it away
        """,
        PATH,
    ),
    Changed(
        MIX,
        "cc: 21, range: [-60 dB, 6 dB], codes: [0, 100], bottom: 0",
        """
        definitions/two-tap-echo.yaml:5:3: error scale-wrong: the bottom code 0 lies among the codes of
            the range
            help: leave it out of `codes`
        """,
        PATH,
    ),
    Changed(
        MIX,
        "cc: 21, range: [-60 dB, 6 dB], bottom: 128",
        """
        definitions/two-tap-echo.yaml:5:61: error number-outside: `bottom` is 128; it goes from 0 to 127
            help: write a number from 0 to 127
        """,
        PATH,
    ),
    Changed(
        MIX,
        "cc: 21, range: [-100 %, 100 %], codes: [0, 100], centre: 100",
        """
        definitions/two-tap-echo.yaml:5:79: error scale-wrong: the centre code 100 must lie between the
            codes, and 0 within the range
            help: mend one of them
        """,
        PATH,
    ),
    Changed(
        MIX,
        "cc: 21",
        """
        definitions/two-tap-echo.yaml:5:3: error scale-wrong: `mix` needs a `range` or `points`, one of
            the two
            help: write one
        """,
        PATH,
    ),
    Changed(
        MIX,
        "cc: 21, range: [0 %, 100 %], points: [[0, 0 %], [100, 100 %]]",
        """
        definitions/two-tap-echo.yaml:5:3: error scale-wrong: `mix` needs a `range` or `points`, one of
            the two
            help: write one
        """,
        PATH,
    ),
    Changed(
        MIX,
        "cc: 21, points: [[0, 0 %], [100, 100 %]], codes: [0, 100]",
        """
        definitions/two-tap-echo.yaml:5:64: error scale-wrong: `codes` goes with a `range`, and `points`
            have their own codes
            help: take it away
        """,
        PATH,
    ),
    Changed(
        MIX,
        "cc: 21, points: [[0, 0 %], [100, 100 %]], centre: 64",
        """
        definitions/two-tap-echo.yaml:5:64: error scale-wrong: `centre` goes with a `range`, and
            `points` have their own codes
            help: take it away
        """,
        PATH,
    ),
    Changed(
        MIX,
        "cc: 21, points: [[0, 0 %]]",
        """
        definitions/two-tap-echo.yaml:5:38: error wrong-shape: `points` has 1 item
            help: write at least 2
        """,
        PATH,
    ),
    Changed(
        MIX,
        "cc: 21, points: [[0, 0 %], [0, 100 %]]",
        """
        definitions/two-tap-echo.yaml:5:38: error scale-wrong: the points do not all rise (or fall) in
            one unit, by rising codes
            help: put them in order
        """,
        PATH,
    ),
    Changed(
        MIX,
        "cc: 21, points: [[0, 0 %], [50, 100 %], [100, 50 %]]",
        """
        definitions/two-tap-echo.yaml:5:38: error scale-wrong: the points do not all rise (or fall) in
            one unit, by rising codes
            help: put them in order
        """,
        PATH,
    ),
    Changed(
        MIX,
        "cc: 21, points: [[0, 0 %], [100, 100 dB]]",
        """
        definitions/two-tap-echo.yaml:5:38: error scale-wrong: the points do not all rise (or fall) in
            one unit, by rising codes
            help: put them in order
        """,
        PATH,
    ),
    Changed(
        MIX,
        "cc: 21, points: [[0, 0 %], [128, 100 %]]",
        """
        definitions/two-tap-echo.yaml:5:50: error number-outside: the code is 128; it goes from 0 to 127
            help: write a number from 0 to 127
        """,
        PATH,
    ),
    Changed(
        MIX,
        "cc: 21, points: [[0, 0 %], [100, much]]",
        """
        definitions/two-tap-echo.yaml:5:55: error bad-value: `much` is no bound of a range
            help: write a number with its unit, such as `40 %`
        """,
        PATH,
    ),
    Changed(
        MIX,
        "cc: 21, range: [0 %, 100 %], tolerance: 5",
        """
        definitions/two-tap-echo.yaml:5:62: error bad-value: `5` is no tolerance
            help: write it like `5 %`: of the value asked, for levels of the range
        """,
        PATH,
    ),
    Changed(
        "mix: {kind: level, cc: 21, range: [0 %, 100 %], codes: [0, 100]",
        (
            "mode: {kind: choice, cc: 30, values: {}}\n"
            "  mix: {kind: level, cc: 21, range: [0 %, 100 %], codes: [0, 100]"
        ),
        """
        definitions/two-tap-echo.yaml:5:32: error scale-wrong: `values` names nothing that could be set
            help: write a name and its code
        """,
        PATH,
    ),
    Changed(
        "mix: {kind: level, cc: 21, range: [0 %, 100 %], codes: [0, 100]",
        (
            "mode: {kind: choice, cc: 30, values: {a: 0-63, b: 63-127}}\n"
            "  mix: {kind: level, cc: 21, range: [0 %, 100 %], codes: [0, 100]"
        ),
        """
        definitions/two-tap-echo.yaml:5:50: error scale-wrong: `b` and `a` share a code
            `a` is given here: definitions/two-tap-echo.yaml:5:41
            help: give each its own
        """,
        PATH,
    ),
    Changed(
        "mix: {kind: level, cc: 21, range: [0 %, 100 %], codes: [0, 100]",
        (
            "mode: {kind: choice, cc: 30, values: {a: 5, b: 5}}\n"
            "  mix: {kind: level, cc: 21, range: [0 %, 100 %], codes: [0, 100]"
        ),
        """
        definitions/two-tap-echo.yaml:5:47: error scale-wrong: `b` and `a` share a code
            `a` is given here: definitions/two-tap-echo.yaml:5:41
            help: give each its own
        """,
        PATH,
    ),
    Changed(
        "mix: {kind: level, cc: 21, range: [0 %, 100 %], codes: [0, 100]",
        (
            "mode: {kind: choice, cc: 30, values: {a: 63-0}}\n"
            "  mix: {kind: level, cc: 21, range: [0 %, 100 %], codes: [0, 100]"
        ),
        """
        definitions/two-tap-echo.yaml:5:44: error scale-wrong: the codes 63-0 run backwards
            help: write `0-63`
        """,
        PATH,
    ),
    Changed(
        "mix: {kind: level, cc: 21, range: [0 %, 100 %], codes: [0, 100]",
        (
            "mode: {kind: choice, cc: 30, values: {a: 128}}\n"
            "  mix: {kind: level, cc: 21, range: [0 %, 100 %], codes: [0, 100]"
        ),
        """
        definitions/two-tap-echo.yaml:5:44: error number-outside: the code is 128; it goes from 0 to 127
            help: write a number from 0 to 127
        """,
        PATH,
    ),
    Changed(
        "mix: {kind: level, cc: 21, range: [0 %, 100 %], codes: [0, 100]",
        (
            "mode: {kind: choice, cc: 30, values: {a: 0-128}}\n"
            "  mix: {kind: level, cc: 21, range: [0 %, 100 %], codes: [0, 100]"
        ),
        """
        definitions/two-tap-echo.yaml:5:44: error number-outside: the code is 128; it goes from 0 to 127
            help: write a number from 0 to 127
        """,
        PATH,
    ),
    Changed(
        "mix: {kind: level, cc: 21, range: [0 %, 100 %], codes: [0, 100]",
        (
            "mode: {kind: choice, cc: 30, values: {a: -1}}\n"
            "  mix: {kind: level, cc: 21, range: [0 %, 100 %], codes: [0, 100]"
        ),
        """
        definitions/two-tap-echo.yaml:5:44: error wrong-shape: `-1` is not a code (`5`) or a range of
            codes (`0-63`)
            help: write a code (`5`) or a range of codes (`0-63`) for `a`
        """,
        PATH,
    ),
    Changed(
        "mix: {kind: level, cc: 21, range: [0 %, 100 %], codes: [0, 100]",
        (
            "mode: {kind: choice, cc: 30, values: {home: 1}}\n"
            "  mix: {kind: level, cc: 21, range: [0 %, 100 %], codes: [0, 100]"
        ),
        """
        definitions/two-tap-echo.yaml:5:41: error bad-name: `home` cannot name a value: the word has a
            meaning of its own
            help: choose another name
        """,
        PATH,
    ),
    Changed(
        "mix: {kind: level, cc: 21, range: [0 %, 100 %], codes: [0, 100]",
        (
            "mode: {kind: choice, cc: 30, values: {a: 1}, send: {b: 1}}\n"
            "  mix: {kind: level, cc: 21, range: [0 %, 100 %], codes: [0, 100]"
        ),
        """
        definitions/two-tap-echo.yaml:5:55: error unknown-name: `send` names `b`, which is none of the
            values
            help: known here as values: `a`
        """,
        PATH,
    ),
    Changed(
        "mix: {kind: level, cc: 21, range: [0 %, 100 %], codes: [0, 100]",
        (
            "mode: {kind: choice, cc: 30, values: {a: 1-9}, send: {a: 10}}\n"
            "  mix: {kind: level, cc: 21, range: [0 %, 100 %], codes: [0, 100]"
        ),
        """
        definitions/two-tap-echo.yaml:5:57: error scale-wrong: `a` is sent as a code that does not mean
            it
            help: send one of its own codes
        """,
        PATH,
    ),
    Changed(
        "mix: {kind: level, cc: 21, range: [0 %, 100 %], codes: [0, 100]",
        (
            "mode: {kind: choice, cc: 30, values: {a: 1-9}, send: {a: 200}}\n"
            "  mix: {kind: level, cc: 21, range: [0 %, 100 %], codes: [0, 100]"
        ),
        """
        definitions/two-tap-echo.yaml:5:60: error number-outside: `a` is 200; it goes from 0 to 127
            help: write a number from 0 to 127
        """,
        PATH,
    ),
    Changed(
        "mix: {kind: level, cc: 21, range: [0 %, 100 %], codes: [0, 100]",
        (
            "mode: {kind: choice, cc: 30, values: {a: 200}, send: {a: 1}}\n"
            "  mix: {kind: level, cc: 21, range: [0 %, 100 %], codes: [0, 100]"
        ),
        """
        definitions/two-tap-echo.yaml:5:44: error number-outside: the code is 200; it goes from 0 to 127
            help: write a number from 0 to 127
        """,
        PATH,
    ),
    Changed(
        "mix: {kind: level, cc: 21, range: [0 %, 100 %], codes: [0, 100]",
        (
            "mode: {kind: choice, cc: 30, values: {a: 1}, resets: [mode]}\n"
            "  mix: {kind: level, cc: 21, range: [0 %, 100 %], codes: [0, 100]"
        ),
        """
        definitions/two-tap-echo.yaml:5:57: error unknown-name: `mode` resets `mode`, which is no other
            control of this definition
            help: known here as controls: `engage`, `mix`, `time`
        """,
        PATH,
    ),
    Changed(
        "mix: {kind: level, cc: 21, range: [0 %, 100 %], codes: [0, 100]",
        (
            "mode: {kind: choice, cc: 30, values: {a: 1}, resets: [mixx]}\n"
            "  mix: {kind: level, cc: 21, range: [0 %, 100 %], codes: [0, 100]"
        ),
        """
        definitions/two-tap-echo.yaml:5:57: error unknown-name: `mode` resets `mixx`, which is no other
            control of this definition
            help: did you mean `mix`?
        """,
        PATH,
    ),
    Changed(
        "mix: {kind: level, cc: 21, range: [0 %, 100 %], codes: [0, 100]",
        (
            "mode: {kind: choice, cc: 30, values: {a: 1}, resets: [style]}\n"
            "  style: {kind: choice, cc: 31, values: {a: 1}, resets: [tone]}\n"
            "  tone: {kind: choice, cc: 33, values: {a: 1}, resets: [mode]}\n"
            "  mix: {kind: level, cc: 21, range: [0 %, 100 %], codes: [0, 100]"
        ),
        """
        definitions/two-tap-echo.yaml:5:3: error reset-circle: `mode` resets itself, through what it
            resets
            help: a choice goes before what it resets, so there can be no circle: take one name out
        """,
        PATH,
    ),
)


@pytest.mark.parametrize("change", SLIPS, ids=lambda change: change.new)
def test_a_slip_in_a_scale_brings_one_finding(change: Changed) -> None:
    assert seen_after(change) == block(change.seen)
