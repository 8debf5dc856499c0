"""Slips in a definition's programs: each brings one finding, and none follows from it in rigs and songs.

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
PROGRAMS = "count: 128, first: 1, settle: 35 ms"

SLIPS = (
    Changed(
        PROGRAMS,
        "count: 128, settle: 35 ms",
        """
        definitions/two-tap-echo.yaml:2:11: error panel-wrong: the panel counts from `first`, or in
            `banks` and `slots`: one of the two
            help: write `first: 1` (what the panel shows for MIDI program 0), or `panel: {banks: A-G,
                slots: 1-60}`
        """,
        PATH,
    ),
    Changed(
        PROGRAMS,
        "count: 128, first: 2, settle: 35 ms",
        """
        definitions/two-tap-echo.yaml:2:31: error number-outside: `first` is 2; it goes from 0 to 1
            help: write a number from 0 to 1
        """,
        PATH,
    ),
    Changed(
        PROGRAMS,
        "count: 128, first: 1, panel: {banks: A-G, slots: 1-60}, settle: 35 ms",
        """
        definitions/two-tap-echo.yaml:2:11: error panel-wrong: the panel counts from `first`, or in
            `banks` and `slots`: one of the two
            help: write `first: 1` (what the panel shows for MIDI program 0), or `panel: {banks: A-G,
                slots: 1-60}`
        """,
        PATH,
    ),
    Changed(
        PROGRAMS,
        "count: 421, panel: {banks: A-G, slots: 1-60}, bank: cc0, bank-when: always, settle: 35 ms",
        """
        definitions/two-tap-echo.yaml:2:19: error panel-wrong: the panel shows 420 programs, A1 to G60,
            and `count` is 421
            help: mend `banks`, `slots` or `count`
        """,
        PATH,
    ),
    Changed(
        PROGRAMS,
        "count: 128, panel: {banks: G-A, slots: 1-60}, settle: 35 ms",
        """
        definitions/two-tap-echo.yaml:2:39: error panel-wrong: `G-A` counts nothing
            help: write the first, a dash, and the last, such as `A-G` or `1-60`
        """,
        PATH,
    ),
    Changed(
        PROGRAMS,
        "count: 128, panel: {banks: a-G, slots: 1-60}, settle: 35 ms",
        """
        definitions/two-tap-echo.yaml:2:39: error panel-wrong: `a-G` counts nothing
            help: write the first, a dash, and the last, such as `A-G` or `1-60`
        """,
        PATH,
    ),
    Changed(
        PROGRAMS,
        "count: 128, panel: {banks: A-G, slots: 60-1}, settle: 35 ms",
        """
        definitions/two-tap-echo.yaml:2:51: error panel-wrong: `60-1` counts nothing
            help: write the first, a dash, and the last, such as `A-G` or `1-60`
        """,
        PATH,
    ),
    Changed(
        PROGRAMS,
        "count: 128, panel: {banks: A-G, slots: one to sixty}, settle: 35 ms",
        """
        definitions/two-tap-echo.yaml:2:51: error wrong-shape: `one to sixty` is not a range of letters
            or digits, such as `A-G`, `1-60` or `01-32`
            help: write a range of letters or digits, such as `A-G`, `1-60` or `01-32` for `slots`
        """,
        PATH,
    ),
    Changed(
        PROGRAMS,
        "count: 128, panel: {banks: A-G, slots: []}, settle: 35 ms",
        """
        definitions/two-tap-echo.yaml:2:51: error wrong-shape: `slots` has 0 items
            help: write at least 1
        """,
        PATH,
    ),
    Changed(
        PROGRAMS,
        "count: 128, panel: {banks: A-G, slots: [1, {2: 3}]}, settle: 35 ms",
        """
        definitions/two-tap-echo.yaml:2:55: error wrong-shape: a block is not a name
            help: write a name for this
        """,
        PATH,
    ),
    Changed(
        PROGRAMS,
        "count: 128, panel: {banks: A-G}, settle: 35 ms",
        """
        definitions/two-tap-echo.yaml:2:24: error missing-key: `panel` lacks `slots`
            help: write it: `slots: ...` (a list or a block)
        """,
        PATH,
    ),
    Changed(
        PROGRAMS,
        "count: 128, panel: {banks: [1, 11], slots: 1-64}, settle: 35 ms",
        """
        definitions/two-tap-echo.yaml:2:31: error panel-wrong: two programs have one label on this panel
            help: write what stands `between` bank and slot, or mend the lists
        """,
        PATH,
    ),
    Changed(
        PROGRAMS,
        "count: 128, panel: {banks: 1-9999, slots: 1-9999, between: '-'}, settle: 35 ms",
        """
        definitions/two-tap-echo.yaml:2:31: error panel-wrong: 9999 banks of 9999 slots are more
            programs than MIDI tells apart
            help: there are 2097152 at most: mend `banks` or `slots`
        """,
        PATH,
    ),
    Changed(
        PROGRAMS,
        "count: 420, first: 1, settle: 35 ms",
        """
        definitions/two-tap-echo.yaml:2:19: error panel-wrong: a program change tells 128 programs
            apart, and `count` is 420
            help: say which bank select the device wants: `bank: cc0`, `cc32` or `both`
        """,
        PATH,
    ),
    Changed(
        PROGRAMS,
        "count: 420, first: 1, bank: cc0, settle: 35 ms",
        """
        definitions/two-tap-echo.yaml:2:11: error panel-wrong: it is not said whether bank select goes
            before every program or only where the bank changes
            help: write `bank-when: always`, which any box understands, or `bank-when: change`
        """,
        PATH,
    ),
    Changed(
        PROGRAMS,
        "count: 420, first: 1, bank-when: change, settle: 35 ms",
        """
        definitions/two-tap-echo.yaml:2:11: error panel-wrong: `bank-when` without `bank` means nothing
            help: write `bank: cc0`, `cc32` or `both`, or take it away
        """,
        PATH,
    ),
    Changed(
        PROGRAMS,
        "count: 128, first: 1, bank-size: 100, settle: 35 ms",
        """
        definitions/two-tap-echo.yaml:2:11: error panel-wrong: `bank-size` without `bank` means nothing
            help: write `bank: cc0`, `cc32` or `both`, or take it away
        """,
        PATH,
    ),
    Changed(
        PROGRAMS,
        "count: 420, first: 1, bank: cc1, bank-when: change, settle: 35 ms",
        """
        definitions/two-tap-echo.yaml:2:40: error wrong-shape: `cc1` is not `cc0`, `cc32` or `both`
            help: write `cc0`, `cc32` or `both` for `bank`
        """,
        PATH,
    ),
    Changed(
        PROGRAMS,
        "count: 420, first: 1, bank: cc0, bank-when: sometimes, settle: 35 ms",
        """
        definitions/two-tap-echo.yaml:2:56: error wrong-shape: `sometimes` is not `always` or `change`
            help: write `always` or `change` for `bank-when`
        """,
        PATH,
    ),
    Changed(
        PROGRAMS,
        "count: 420, first: 1, bank: cc0, bank-when: change, bank-size: 129, settle: 35 ms",
        """
        definitions/two-tap-echo.yaml:2:75: error number-outside: `bank-size` is 129; it goes from 1 to
            128
            help: write a number from 1 to 128
        """,
        PATH,
    ),
    Changed(
        PROGRAMS,
        "count: 12801, first: 1, bank: cc0, bank-when: change, bank-size: 100, settle: 35 ms",
        """
        definitions/two-tap-echo.yaml:2:19: error panel-wrong: 12801 programs are 129 banks of 100, and
            `cc0` tells 128 apart
            help: mend `count`, `bank-size` or `bank`
        """,
        PATH,
    ),
    Changed(
        PROGRAMS,
        "count: 2097153, first: 1, bank: both, bank-when: change, settle: 35 ms",
        """
        definitions/two-tap-echo.yaml:2:19: error number-outside: `count` is 2097153; it goes from 1 to
            2097152
            help: write a number from 1 to 2097152
        """,
        PATH,
    ),
    Changed(
        PROGRAMS,
        "count: 128, first: 1, remap: {129: 12}, settle: 35 ms",
        """
        definitions/two-tap-echo.yaml:2:42: error panel-wrong: `129` is no program of this panel: it
            goes from 1 to 128
            help: in `remap: {5: 12}` the program that calls 5 on other panels calls 12 on this one
        """,
        PATH,
    ),
    Changed(
        PROGRAMS,
        "count: 128, first: 1, remap: {5: A1}, settle: 35 ms",
        """
        definitions/two-tap-echo.yaml:2:45: error panel-wrong: `A1` is no program of this panel: it goes
            from 1 to 128
            help: in `remap: {5: 12}` the program that calls 5 on other panels calls 12 on this one
        """,
        PATH,
    ),
    Changed(
        PROGRAMS,
        "count: 8, panel: {banks: A-B, slots: 1-4}, remap: {C1: A1}",
        """
        definitions/two-tap-echo.yaml:2:63: error panel-wrong: `C1` is no program of this panel: it goes
            from A1 to B4
            help: in `remap: {5: 12}` the program that calls 5 on other panels calls 12 on this one
        """,
        PATH,
    ),
    Changed(
        PROGRAMS,
        "count: 128, first: 1, remap: {5: 12, 05: 13}, settle: 35 ms",
        """
        definitions/two-tap-echo.yaml:2:49: error panel-wrong: program 5 is remapped twice
            help: it calls one program: keep the one that the box calls
        """,
        PATH,
    ),
    Changed(
        PROGRAMS,
        "count: 128, first: 1, remap: [5, 12], settle: 35 ms",
        """
        definitions/two-tap-echo.yaml:2:41: error wrong-shape: a list is not a block of `key: value`
            lines
            help: write a block of `key: value` lines for `remap`
        """,
        PATH,
    ),
    Changed(
        PROGRAMS,
        "count: 128, first: 1, remap: {5: [12]}, settle: 35 ms",
        """
        definitions/two-tap-echo.yaml:2:45: error wrong-shape: a list is not a value
            help: write a value for `5`
        """,
        PATH,
    ),
    Changed(
        PROGRAMS,
        "count: 128, first: 1, remap: {4: 12}, settle: 35 ms",
        """
        rigs/a-rig.yaml:11:13: error patch-outside: no program calls patch 4 of `echo`: its remap sends
            its own program elsewhere
            the programs and their remap: definitions/two-tap-echo.yaml:2:11
            help: mend `remap` in the definition, or store the patch at another number
        """,
        PATH,
    ),
    Changed(
        PROGRAMS,
        "count: 128, first: 1, moved-by: me, settle: 35 ms",
        """
        definitions/two-tap-echo.yaml:2:44: error wrong-shape: `me` is not `player`
            help: write `player` for `moved-by`
        """,
        PATH,
    ),
)


@pytest.mark.parametrize("change", SLIPS, ids=lambda change: change.new)
def test_a_slip_in_programs_brings_one_finding(change: Changed) -> None:
    assert seen_after(change) == block(change.seen)
