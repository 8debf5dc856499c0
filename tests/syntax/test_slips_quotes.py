"""The slips of a person in a hurry, among quotes and characters that YAML keeps for itself."""

from __future__ import annotations

import pytest

from tests.syntax.slip import Slip, block, seen_in_song

SLIPS = (
    Slip(
        "a double quote never closed",
        """
        song: Lantern
        scenes:
          verse: {gate: tight, remark: "hold}
          chorus: {gate: loose}
        """,
        """
        lantern.yaml:3:32: error yaml-syntax: this quote is never closed
            help: close it with the same quote; inside single quotes an apostrophe is written twice
        """,
    ),
    Slip(
        "a single quote never closed",
        """
        song: Lantern
        scenes:
          verse: {gate: tight, remark: 'hold}
          chorus: {gate: loose}
        """,
        """
        lantern.yaml:3:32: error yaml-syntax: this quote is never closed
            help: close it with the same quote; inside single quotes an apostrophe is written twice
        """,
    ),
    Slip(
        "a quote never closed, another text in quotes below",
        """
        song: Lantern
        scenes:
          verse: {gate: tight, remark: "hold}
          chorus: {gate: loose, remark: "now"}
        """,
        """
        lantern.yaml:3:32: error yaml-syntax: this quote is never closed
            help: close it with the same quote; inside single quotes an apostrophe is written twice
        """,
    ),
    Slip(
        "an apostrophe inside single quotes, in braces",
        """
        song: Lantern
        scenes:
          verse: {gate: tight, remark: 'don't wait'}
        """,
        """
        lantern.yaml:3:37: error yaml-syntax: there is text after the closing quote
            help: inside single quotes write an apostrophe twice, or put the text in double quotes
        """,
    ),
    Slip(
        "an apostrophe inside single quotes, in a block",
        """
        song: Lantern
        scenes:
          verse:
            remark: 'don't wait'
            gate: tight
        """,
        """
        lantern.yaml:4:18: error yaml-syntax: there is text after the closing quote
            help: inside single quotes write an apostrophe twice, or put the text in double quotes
        """,
    ),
    Slip(
        "text after a closing double quote",
        """
        song: Lantern
        scenes:
          verse: {gate: tight, remark: "hold" and wait}
        """,
        """
        lantern.yaml:3:39: error yaml-syntax: there is text after the closing quote
            help: put the whole text inside the quotes
        """,
    ),
    Slip(
        "a backslash in double quotes",
        """
        song: Lantern
        scenes:
          verse: {gate: tight, remark: "cue \\d"}
        """,
        """
        lantern.yaml:3:37: error yaml-syntax: `\\d` means nothing inside double quotes
            help: put the text in single quotes, or write the backslash twice
        """,
    ),
    Slip(
        "a value in empty quotes",
        """
        song: Lantern
        scenes:
          verse: {gate: ''}
        """,
        """
        lantern.yaml:3:17: error wrong-shape: an empty text is not a value
            help: write a value for `gate`
        """,
    ),
    Slip(
        "a value that begins with an at sign",
        """
        song: Lantern
        scenes:
          verse: {gate: tight, remark: @front}
        """,
        """
        lantern.yaml:3:32: error yaml-syntax: a value cannot begin with `@`
            help: put the whole text in double quotes: `"..."`
        """,
    ),
    Slip(
        "a value that begins with a backtick",
        """
        song: Lantern
        scenes:
          verse: {gate: tight, remark: `front` only}
        """,
        """
        lantern.yaml:3:32: error yaml-syntax: a value cannot begin with ```
            help: put the whole text in double quotes: `"..."`
        """,
    ),
    Slip(
        "a value that begins with a percent sign",
        """
        song: Lantern
        scenes:
          verse: {gate: tight, echo.mix: %40}
        """,
        """
        lantern.yaml:3:34: error yaml-syntax: a value cannot begin with `%`
            help: put the whole text in double quotes: `"..."`
        """,
    ),
    Slip(
        "a first line that begins with a percent sign",
        """
        %40
        song: Lantern
        scenes:
          verse: {gate: tight}
        """,
        """
        lantern.yaml:1:1: error yaml-syntax: a line cannot begin with `%`
            help: put the whole text in double quotes: `"..."`
        """,
    ),
    Slip(
        "a value that begins with a star",
        """
        song: Lantern
        scenes:
          verse: {gate: tight, remark: *soft*}
        """,
        """
        lantern.yaml:3:32: error yaml-syntax: a value cannot begin with `*`
            help: put the whole text in double quotes: `"..."`
        """,
    ),
    Slip(
        "a value that begins with an exclamation mark",
        """
        song: Lantern
        scenes:
          verse: {gate: tight, remark: !loud}
        """,
        """
        lantern.yaml:3:32: error yaml-syntax: a value cannot begin with `!`
            help: put the whole text in double quotes: `"..."`
        """,
    ),
    Slip(
        "a value that begins with a greater-than sign",
        """
        song: Lantern
        scenes:
          verse:
            remark: > 40 %
            gate: tight
        """,
        """
        lantern.yaml:4:13: error yaml-syntax: a value cannot begin with `>`
            help: put the whole text in double quotes: `"..."`
        """,
    ),
    Slip(
        "a value that begins with a hash",
        """
        song: Lantern
        scenes:
          verse:
            remark: #4
            gate: tight
        """,
        """
        lantern.yaml:4:5: error value-missing: `remark` has no value: what stands behind `#` is a
            comment
            help: write a value; if the `#` belongs to it, put the whole text in double quotes: `"..."`
        """,
    ),
)


@pytest.mark.parametrize("slip", SLIPS, ids=lambda slip: slip.what)
def test_a_slip_with_quotes_brings_one_finding_that_says_what_to_write(slip: Slip) -> None:
    assert seen_in_song(slip.text) == block(slip.seen)
