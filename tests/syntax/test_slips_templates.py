"""Slips in a system exclusive template, or in what a box answers: each brings one finding.

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
        "sysex: {body: [0x7D, id, 0x12]}, range: [0 %, 100 %]",
        """
        definitions/two-tap-echo.yaml:5:29: error template-wrong: `mix`: the template has no place for
            the value
            help: write `value`, or `value-msb` and `value-lsb`
        """,
        PATH,
    ),
    Changed(
        MIX,
        "sysex: {body: [0xF0, 0x7D, value]}, range: [0 %, 100 %]",
        """
        definitions/two-tap-echo.yaml:5:37: error template-wrong: `0xF0` does not fit in seven bits
            help: F0 and F7 are put round it: write what stands between them
        """,
        PATH,
    ),
    Changed(
        MIX,
        "sysex: {body: [0x7D, value, 0xF7]}, range: [0 %, 100 %]",
        """
        definitions/two-tap-echo.yaml:5:50: error template-wrong: `0xF7` does not fit in seven bits
            help: F0 and F7 are put round it: write what stands between them
        """,
        PATH,
    ),
    Changed(
        MIX,
        "sysex: {body: [0x7D, 0x80, value]}, range: [0 %, 100 %]",
        """
        definitions/two-tap-echo.yaml:5:43: error template-wrong: `0x80` does not fit in seven bits
            help: system exclusive holds bytes from 0 to 127 (0x7F): look it up in the maker's manual
        """,
        PATH,
    ),
    Changed(
        MIX,
        "sysex: {body: [0x7D, 256, value]}, range: [0 %, 100 %]",
        """
        definitions/two-tap-echo.yaml:5:43: error template-wrong: `256` does not fit in seven bits
            help: system exclusive holds bytes from 0 to 127 (0x7F): look it up in the maker's manual
        """,
        PATH,
    ),
    Changed(
        MIX,
        "sysex: {body: [0x7D, valeu]}, range: [0 %, 100 %]",
        """
        definitions/two-tap-echo.yaml:5:43: error wrong-shape: `valeu` is not a byte (`0x12`), `id`,
            `value`, `value-msb`, `value-lsb` or `checksum`
            help: write a byte (`0x12`), `id`, `value`, `value-msb`, `value-lsb` or `checksum` for this
        """,
        PATH,
    ),
    Changed(
        MIX,
        "sysex: {body: [value, 0x7D]}, range: [0 %, 100 %]",
        """
        definitions/two-tap-echo.yaml:5:29: error template-wrong: `mix`: the template does not begin
            with the maker's number
            help: begin with it: one byte, such as `0x7D`, or three, the first of them 0
        """,
        PATH,
    ),
    Changed(
        MIX,
        "sysex: {body: [id, value]}, range: [0 %, 100 %]",
        """
        definitions/two-tap-echo.yaml:5:29: error template-wrong: `mix`: the template does not begin
            with the maker's number
            help: begin with it: one byte, such as `0x7D`, or three, the first of them 0
        """,
        PATH,
    ),
    Changed(
        MIX,
        "sysex: {body: [0, value]}, range: [0 %, 100 %]",
        """
        definitions/two-tap-echo.yaml:5:29: error template-wrong: `mix`: the template does not begin
            with the maker's number
            help: begin with it: one byte, such as `0x7D`, or three, the first of them 0
        """,
        PATH,
    ),
    Changed(
        MIX,
        "sysex: {body: [0, 0x21, value]}, range: [0 %, 100 %]",
        """
        definitions/two-tap-echo.yaml:5:29: error template-wrong: `mix`: the template does not begin
            with the maker's number
            help: begin with it: one byte, such as `0x7D`, or three, the first of them 0
        """,
        PATH,
    ),
    Changed(
        MIX,
        "sysex: {body: [0, 0, 0, value]}, range: [0 %, 100 %]",
        """
        definitions/two-tap-echo.yaml:5:29: error template-wrong: `mix`: the template does not begin
            with the maker's number
            help: begin with it: one byte, such as `0x7D`, or three, the first of them 0
        """,
        PATH,
    ),
    Changed(
        MIX,
        "sysex: {body: [0x7D, value, value]}, range: [0 %, 100 %]",
        """
        definitions/two-tap-echo.yaml:5:29: error template-wrong: `mix`: a part of the template stands
            there twice
            help: keep one
        """,
        PATH,
    ),
    Changed(
        MIX,
        "sysex: {body: [0x7D, value-msb]}, range: [0 %, 100 %]",
        """
        definitions/two-tap-echo.yaml:5:29: error template-wrong: `mix`: the value is neither one byte
            nor two
            help: write `value`, or `value-msb` and `value-lsb`
        """,
        PATH,
    ),
    Changed(
        MIX,
        "sysex: {body: [0x7D, value, value-lsb]}, range: [0 %, 100 %]",
        """
        definitions/two-tap-echo.yaml:5:29: error template-wrong: `mix`: the value is neither one byte
            nor two
            help: write `value`, or `value-msb` and `value-lsb`
        """,
        PATH,
    ),
    Changed(
        MIX,
        "sysex: {body: [0x7D, value, checksum]}, range: [0 %, 100 %]",
        """
        definitions/two-tap-echo.yaml:5:29: error template-wrong: `mix`: a checksum needs its place and
            the bytes that it is over
            help: `body` holds `checksum`, and `checksum: [5, 8]` says from which byte to which, counted
                from 1
        """,
        PATH,
    ),
    Changed(
        MIX,
        "sysex: {body: [0x7D, value], checksum: [1, 2]}, range: [0 %, 100 %]",
        """
        definitions/two-tap-echo.yaml:5:29: error template-wrong: `mix`: a checksum needs its place and
            the bytes that it is over
            help: `body` holds `checksum`, and `checksum: [5, 8]` says from which byte to which, counted
                from 1
        """,
        PATH,
    ),
    Changed(
        MIX,
        "sysex: {body: [0x7D, value, checksum], checksum: [1, 3]}, range: [0 %, 100 %]",
        """
        definitions/two-tap-echo.yaml:5:29: error template-wrong: `mix`: the checksum is over bytes that
            are not there, or over itself
            help: count the bytes of `body` from 1
        """,
        PATH,
    ),
    Changed(
        MIX,
        "sysex: {body: [0x7D, value, checksum], checksum: [0, 2]}, range: [0 %, 100 %]",
        """
        definitions/two-tap-echo.yaml:5:29: error template-wrong: `mix`: the checksum is over bytes that
            are not there, or over itself
            help: count the bytes of `body` from 1
        """,
        PATH,
    ),
    Changed(
        MIX,
        "sysex: {body: [0x7D, value, checksum], checksum: [2, 1]}, range: [0 %, 100 %]",
        """
        definitions/two-tap-echo.yaml:5:29: error template-wrong: `mix`: the checksum is over bytes that
            are not there, or over itself
            help: count the bytes of `body` from 1
        """,
        PATH,
    ),
    Changed(
        MIX,
        "sysex: {body: [0x7D, value, checksum], checksum: [1, 4]}, range: [0 %, 100 %]",
        """
        definitions/two-tap-echo.yaml:5:29: error template-wrong: `mix`: the checksum is over bytes that
            are not there, or over itself
            help: count the bytes of `body` from 1
        """,
        PATH,
    ),
    Changed(
        MIX,
        "sysex: {body: [0x7D, value, checksum], checksum: [1]}, range: [0 %, 100 %]",
        """
        definitions/two-tap-echo.yaml:5:71: error wrong-shape: `checksum` has 1 item
            help: write exactly 2
        """,
        PATH,
    ),
    Changed(
        MIX,
        "sysex: {body: [0x7D, value], signed: no}, range: [0 %, 100 %]",
        """
        definitions/two-tap-echo.yaml:5:59: error wrong-shape: `no` is not `yes` (or leave the key out)
            help: write `yes` (or leave the key out) for `signed`
        """,
        PATH,
    ),
    Changed(
        MIX,
        "sysex: [0x7D, value], range: [0 %, 100 %]",
        """
        definitions/two-tap-echo.yaml:5:29: error wrong-shape: a list is not a block of `key: value`
            lines
            help: write a block of `key: value` lines for `sysex`
        """,
        PATH,
    ),
    Changed(
        MIX,
        "sysex: {body: []}, range: [0 %, 100 %]",
        """
        definitions/two-tap-echo.yaml:5:36: error wrong-shape: `body` has 0 items
            help: write at least 1
        """,
        PATH,
    ),
    Changed(
        MIX,
        "sysex: {body: [0x7D, value]}, range: [0 %, 100 %], codes: [0, 128]",
        """
        definitions/two-tap-echo.yaml:5:84: error number-outside: the code is 128; it goes from 0 to 127
            help: write a number from 0 to 127
        """,
        PATH,
    ),
    Changed(
        "definition: two-tap echo",
        ("definition: two-tap echo\nidentity: {manufacturer: [0x80], family: 1, member: 2}"),
        """
        definitions/two-tap-echo.yaml:2:27: error number-outside: `manufacturer` is 0x80; it goes from 0
            to 127
            help: write a number from 0 to 127
        """,
        PATH,
    ),
    Changed(
        "definition: two-tap echo",
        ("definition: two-tap echo\nidentity: {manufacturer: [0, 1], family: 1, member: 2}"),
        """
        definitions/two-tap-echo.yaml:2:26: error bad-value: a maker's number is one byte, or three that
            begin with 0
            help: write it like `[0x7D]` or `[0, 0x21, 0x09]`
        """,
        PATH,
    ),
    Changed(
        "definition: two-tap echo",
        ("definition: two-tap echo\nidentity: {manufacturer: [1, 2, 3], family: 1, member: 2}"),
        """
        definitions/two-tap-echo.yaml:2:26: error bad-value: a maker's number is one byte, or three that
            begin with 0
            help: write it like `[0x7D]` or `[0, 0x21, 0x09]`
        """,
        PATH,
    ),
    Changed(
        "definition: two-tap echo",
        ("definition: two-tap echo\nidentity: {manufacturer: [0x7D], family: 16384, member: 2}"),
        """
        definitions/two-tap-echo.yaml:2:42: error number-outside: `family` is 16384; it goes from 0 to
            16383
            help: write a number from 0 to 16383
        """,
        PATH,
    ),
    Changed(
        "definition: two-tap echo",
        ("definition: two-tap echo\nidentity: {manufacturer: [0x7D], family: 1, member: 0x4000}"),
        """
        definitions/two-tap-echo.yaml:2:53: error number-outside: `member` is 0x4000; it goes from 0 to
            16383
            help: write a number from 0 to 16383
        """,
        PATH,
    ),
    Changed(
        "definition: two-tap echo",
        (
            "definition: two-tap echo\n"
            "identity: {manufacturer: [0x7D], family: 1, member: 2, version: [0, 0, 0, 128]}"
        ),
        """
        definitions/two-tap-echo.yaml:2:75: error number-outside: `version` is 128; it goes from 0 to
            127
            help: write a number from 0 to 127
        """,
        PATH,
    ),
    Changed(
        "definition: two-tap echo",
        (
            "definition: two-tap echo\n"
            "identity: {manufacturer: [0x7D], family: 1, member: 2, version: [0, 0, 0]}"
        ),
        """
        definitions/two-tap-echo.yaml:2:65: error wrong-shape: `version` has 3 items
            help: write exactly 4
        """,
        PATH,
    ),
    Changed(
        "definition: two-tap echo",
        ("definition: two-tap echo\nidentity: {manufacturer: [0x7D], family: 1}"),
        """
        definitions/two-tap-echo.yaml:2:1: error missing-key: `identity` lacks `member`
            help: write it: `member: ...` (a whole number, such as `125` or `0x7D`)
        """,
        PATH,
    ),
    Changed(
        "definition: two-tap echo",
        ("definition: two-tap echo\nidentity: {manufacturer: [], family: 1, member: 2}"),
        """
        definitions/two-tap-echo.yaml:2:26: error wrong-shape: `manufacturer` has 0 items
            help: write at least 1
        """,
        PATH,
    ),
    Changed(
        "definition: two-tap echo",
        ("definition: two-tap echo\ngap: 5"),
        """
        definitions/two-tap-echo.yaml:2:6: error bad-value: `5` is no gap
            help: write it like `35 ms`
        """,
        PATH,
    ),
    Changed(
        "definition: two-tap echo",
        ("definition: two-tap echo\ngap: 61 s"),
        """
        definitions/two-tap-echo.yaml:2:6: error bad-value: `61 s` is no gap
            help: write it like `35 ms`
        """,
        PATH,
    ),
    Changed(
        "definition: two-tap echo",
        ("definition: two-tap echo\nclock: no"),
        """
        definitions/two-tap-echo.yaml:2:8: error wrong-shape: `no` is not `yes` (or leave the key out)
            help: write `yes` (or leave the key out) for `clock`
        """,
        PATH,
    ),
)


@pytest.mark.parametrize("change", SLIPS, ids=lambda change: change.new)
def test_a_slip_in_a_template_or_an_identity_brings_one_finding(change: Changed) -> None:
    assert seen_after(change) == block(change.seen)
