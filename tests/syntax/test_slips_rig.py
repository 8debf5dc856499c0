"""Slips in a rig: each brings one finding, and none follows from it.

Each row changes one piece of the base show:

    # rigs/a-rig.yaml
    rig: A rig
    ports:
      rack: {out: rack, speed: din}
    devices:
      gate-1: {port: rack, channel: 2, definition: plain-gate}
      echo:
        port: rack
        channel: 3
        definition: two-tap-echo
        patches:
          slap: 4
          cliff: {at: 17, stores: {mix: 35 %, time: 480 ms}}
    vocabulary:
      gate:
        tight: {gate-1.threshold: -38 dB}
        loose: {gate-1.threshold: -55 dB}
    home: {gate: loose, echo: {engage: off, patch: slap}}
"""

from __future__ import annotations

import pytest

from tests.syntax.slip import Changed, block, seen_after

SLIPS = (
    Changed(
        "channel: 3",
        "channel: 0",
        """
        rigs/a-rig.yaml:8:14: error number-outside: `channel` is 0; it goes from 1 to 16
            help: write a number from 1 to 16
        """,
        path="rigs/a-rig.yaml",
    ),
    Changed(
        "channel: 3",
        "channel: 17",
        """
        rigs/a-rig.yaml:8:14: error number-outside: `channel` is 17; it goes from 1 to 16
            help: write a number from 1 to 16
        """,
        path="rigs/a-rig.yaml",
    ),
    Changed(
        "channel: 3",
        "channel: -3",
        """
        rigs/a-rig.yaml:8:14: error wrong-shape: `-3` is not a whole number
            help: write a whole number for `channel`
        """,
        path="rigs/a-rig.yaml",
    ),
    Changed(
        "channel: 3",
        "chanel: 3",
        """
        rigs/a-rig.yaml:8:5: error unknown-key: `chanel` is no key of this block
            help: did you mean `channel`?
        """,
        path="rigs/a-rig.yaml",
    ),
    Changed(
        "slap: 4",
        "slap: 0",
        """
        rigs/a-rig.yaml:11:13: error patch-outside: `echo` has no patch 0: its panel goes from 1 to 128
            help: write the number that the front panel shows, or mend `first` and `count` in the
                definition
        """,
        path="rigs/a-rig.yaml",
    ),
    Changed(
        "slap: 4",
        "slap: 129",
        """
        rigs/a-rig.yaml:11:13: error patch-outside: `echo` has no patch 129: its panel goes from 1 to
            128
            help: write the number that the front panel shows, or mend `first` and `count` in the
                definition
        """,
        path="rigs/a-rig.yaml",
    ),
    Changed(
        "slap: 4",
        "slap: A4",
        """
        rigs/a-rig.yaml:11:13: error patch-outside: `echo` has no patch A4: its panel goes from 1 to 128
            help: write the number that the front panel shows, or mend `first` and `count` in the
                definition
        """,
        path="rigs/a-rig.yaml",
    ),
    Changed(
        "    port: rack",
        "    port: rak",
        """
        rigs/a-rig.yaml:7:11: error unknown-name: no port is called `rak`
            help: did you mean `rack`?
        """,
        path="rigs/a-rig.yaml",
    ),
    Changed(
        "definition: two-tap-echo",
        "definition: two-tap-ecko",
        """
        rigs/a-rig.yaml:9:17: error unknown-name: no definition is called `two-tap-ecko`
            help: did you mean `two-tap-echo`?
        """,
        path="rigs/a-rig.yaml",
    ),
    Changed(
        "definition: plain-gate",
        "definition: limiter",
        """
        rigs/a-rig.yaml:5:48: error unknown-name: no definition is called `limiter`
            help: known here as definitions: `plain-gate`, `two-tap-echo`
        """,
        path="rigs/a-rig.yaml",
    ),
    Changed(
        "stores: {mix",
        "stores: {mixx",
        """
        rigs/a-rig.yaml:12:32: error unknown-name: no patch of `echo` stores `mixx`
            help: did you mean `mix`?
        """,
        path="rigs/a-rig.yaml",
    ),
    Changed(
        "35 %",
        "35",
        """
        rigs/a-rig.yaml:12:37: error bad-value: `echo.mix`: `35` has no unit; this control is set in %
            help: write it like `35 %`
        """,
        path="rigs/a-rig.yaml",
    ),
    Changed(
        "stores:",
        "store:",
        """
        rigs/a-rig.yaml:12:23: error unknown-key: `store` is no key of this block
            help: did you mean `stores`?
        """,
        path="rigs/a-rig.yaml",
    ),
    Changed(
        "speed: din",
        "speed: DIN",
        """
        rigs/a-rig.yaml:3:28: error wrong-shape: `DIN` is not `din` or `usb`
            help: write `din` or `usb` for `speed`
        """,
        path="rigs/a-rig.yaml",
    ),
    Changed(
        "out: rack, ",
        "",
        """
        rigs/a-rig.yaml:3:3: error missing-key: `rack` lacks `out`
            help: write it: `out: ...` (a text)
        """,
        path="rigs/a-rig.yaml",
    ),
    Changed(
        "out: rack",
        "out:rack",
        """
        rigs/a-rig.yaml:3:10: error yaml-syntax: `out:rack` is one word: there is no space after its
            colon
            help: put a space after the colon: `out: rack`
        """,
        path="rigs/a-rig.yaml",
    ),
    Changed(
        "channel: 2",
        "channel 2",
        """
        rigs/a-rig.yaml:5:24: error value-missing: `channel 2` stands alone after a comma: it has no
            value
            help: write `channel: 2`; if it belongs to the text before the comma, put the whole text in
                double quotes: `"..."`
        """,
        path="rigs/a-rig.yaml",
    ),
    Changed(
        "home: {gate: loose",
        "home: {gate: lose",
        """
        rigs/a-rig.yaml:17:14: error unknown-word: `gate` has no word `lose`
            help: did you mean `loose`?
        """,
        path="rigs/a-rig.yaml",
    ),
    Changed(
        "patch: slap}",
        "patch: slop}",
        """
        rigs/a-rig.yaml:17:48: error missing-patch: `echo` has no patch `slop`
            help: did you mean `slap`?
        """,
        path="rigs/a-rig.yaml",
    ),
    Changed(
        "tight: {gate-1.threshold",
        "tight: {gate.threshold",
        """
        rigs/a-rig.yaml:15:13: error unknown-name: no device is called `gate`
            help: known here as devices: `echo`, `gate-1`
        """,
        path="rigs/a-rig.yaml",
    ),
    Changed(
        "vocabulary:",
        "vocabularly:",
        """
        rigs/a-rig.yaml:13:1: error unknown-key: `vocabularly` is no key of this block
            help: did you mean `vocabulary`?
        """,
        path="rigs/a-rig.yaml",
    ),
    Changed(
        "devices:",
        "devicse:",
        """
        rigs/a-rig.yaml:4:1: error unknown-key: `devicse` is no key of this block
            help: did you mean `devices`?
        """,
        path="rigs/a-rig.yaml",
    ),
    Changed(
        "tight: {gate-1.threshold: -38 dB}",
        "tight: gate-1.threshold",
        """
        rigs/a-rig.yaml:15:12: error wrong-shape: `gate-1.threshold` is no block of lines
            help: write `tight: {DEVICE.CONTROL: VALUE}`, or `tight: nothing`
        """,
        path="rigs/a-rig.yaml",
    ),
)


@pytest.mark.parametrize("change", SLIPS, ids=lambda change: change.new)
def test_a_slip_in_a_rig_brings_one_finding(change: Changed) -> None:
    assert seen_after(change) == block(change.seen)
