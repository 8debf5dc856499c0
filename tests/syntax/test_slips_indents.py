"""The slips of a person in a hurry, among indents, dashes and what is left empty or said twice."""

from __future__ import annotations

import pytest

from tests.syntax.slip import Slip, block, seen_in_song

SLIPS = (
    Slip(
        "a tab for the indentation of a scene",
        """
        song: Lantern
        scenes:
        \tverse: {gate: tight}
        """,
        """
        lantern.yaml:3:1: error yaml-syntax: the line is indented with a tab
            help: use spaces: set your editor to put spaces for tabs
        """,
    ),
    Slip(
        "tabs for the indentation of a block",
        """
        song: Lantern
        scenes:
          verse:
        \t\tgate: tight
        \t\techo: cliff
        """,
        """
        lantern.yaml:4:1: error yaml-syntax: the line is indented with a tab
            help: use spaces: set your editor to put spaces for tabs
        """,
    ),
    Slip(
        "a tab after spaces",
        """
        song: Lantern
        scenes:
          verse:
            echo: cliff
          \tgate: tight
        """,
        """
        lantern.yaml:5:3: error yaml-syntax: the line is indented with a tab
            help: use spaces: set your editor to put spaces for tabs
        """,
    ),
    Slip(
        "a line indented too deep",
        """
        song: Lantern
        scenes:
          verse:
            echo: cliff
              gate: tight
        """,
        """
        lantern.yaml:5:7: error yaml-syntax: this line is indented deeper than the line above, which has
            its value already
            the value above: lantern.yaml:4:11
            help: line it up with the key above
        """,
    ),
    Slip(
        "a line indented too little",
        """
        song: Lantern
        scenes:
          verse:
            echo: cliff
           gate: tight
        """,
        """
        lantern.yaml:5:4: error yaml-syntax: this line does not line up with the lines above
            help: begin it in the same column as the lines that it belongs with
        """,
    ),
    Slip(
        "scenes not indented",
        """
        song: Lantern
        scenes:
        verse: {gate: tight}
        """,
        """
        lantern.yaml:2:1: error value-missing: `scenes` has no value
            help: indent the lines that belong to it, write a value after the colon, or delete the key
        """,
    ),
    Slip(
        "a scene's lines not indented",
        """
        song: Lantern
        scenes:
          verse:
          gate: tight
          echo: cliff
        """,
        """
        lantern.yaml:3:3: error value-missing: `verse` has no value
            help: indent the lines that belong to it, write a value after the colon, or delete the key
        """,
    ),
    Slip(
        "scenes as a list with dashes",
        """
        song: Lantern
        scenes:
          - verse: {gate: tight}
          - chorus: {gate: loose}
        """,
        """
        lantern.yaml:3:3: error wrong-shape: a list is not a block of `key: value` lines
            help: write a block of `key: value` lines for `scenes`
        """,
    ),
    Slip(
        "a list with dashes on its key's line",
        """
        song: Lantern
        tempo: 120
        scenes:
          verse:
            at: - bar 1
            gate: tight
        """,
        """
        lantern.yaml:5:9: error yaml-syntax: a list with dashes cannot begin here
            help: put it in brackets: `[one, two]`
        """,
    ),
    Slip(
        "a dash among a block's lines",
        """
        song: Lantern
        scenes:
          verse:
            echo: cliff
            - gate: tight
        """,
        """
        lantern.yaml:5:5: error yaml-syntax: a list with dashes cannot begin here
            help: take the dash away, or put the list in brackets: `[one, two]`
        """,
    ),
    Slip(
        "a value as a list with dashes",
        """
        song: Lantern
        scenes:
          verse:
            gate:
              - tight
        """,
        """
        lantern.yaml:5:7: error wrong-shape: a list is not a value
            help: write a value for `gate`
        """,
    ),
    Slip(
        "a dash without a space",
        """
        song: Lantern
        tempo: 120
        scenes:
          verse:
            at:
              -bar 1
            gate: tight
        """,
        """
        lantern.yaml:6:7: error bad-place: `-bar 1` is no place in a song
            help: write `bar 17`, `bar 17 beat 3`, minutes:seconds, or hours:minutes:seconds:frames
        """,
    ),
    Slip(
        "a remark that runs on into the next line",
        """
        song: Lantern
        scenes:
          verse:
            gate: tight
            remark: hand over the
              mandola
          chorus: {gate: loose}
        """,
        """
        lantern.yaml:5:13: error yaml-syntax: the value runs on into the next line (`mandola`)
            help: give the next line its own `key: value`; if the text is meant to be that long, put the
                whole text in double quotes: `"..."`
        """,
    ),
    Slip(
        "a remark in braces that runs on into the next line",
        """
        song: Lantern
        scenes:
          verse: {gate: tight, remark: hand over
            the mandola}
        """,
        """
        lantern.yaml:3:32: error yaml-syntax: the value runs on into the next line (`the mandola}`)
            help: give the next line its own `key: value`; if the text is meant to be that long, put the
                whole text in double quotes: `"..."`
        """,
    ),
    Slip(
        "a line of a block with no value",
        """
        song: Lantern
        scenes:
          verse:
            gate:
            echo: cliff
        """,
        """
        lantern.yaml:4:5: error value-missing: `gate` has no value
            help: indent the lines that belong to it, write a value after the colon, or delete the key
        """,
    ),
    Slip(
        "a line in braces with no value",
        """
        song: Lantern
        scenes:
          verse: {gate: , echo: cliff}
        """,
        """
        lantern.yaml:3:11: error value-missing: `gate` has no value
            help: write one after the colon, or delete the key
        """,
    ),
    Slip(
        "a scene with nothing in it",
        """
        song: Lantern
        scenes:
          verse:
          chorus: {gate: tight, echo: cliff}
        """,
        """
        lantern.yaml:3:3: error value-missing: `verse` has no value
            help: indent the lines that belong to it, write a value after the colon, or delete the key
        """,
    ),
    Slip(
        "no scene at all",
        """
        song: Lantern
        scenes:
        """,
        """
        lantern.yaml:2:1: error value-missing: `scenes` has no value
            help: write one after the colon, or delete the key
        """,
    ),
    Slip(
        "a scene written twice",
        """
        song: Lantern
        scenes:
          verse: {gate: tight}
          chorus: {gate: loose}
          verse: {gate: loose, echo: cliff}
        """,
        """
        lantern.yaml:5:3: error key-twice: `verse` is given twice
            first given here: lantern.yaml:3:3
            help: keep one of the two: YAML readers disagree on which would count
        """,
    ),
    Slip(
        "a line written twice",
        """
        song: Lantern
        scenes:
          verse: {gate: tight, echo: cliff, gate: loose}
        """,
        """
        lantern.yaml:3:37: error key-twice: `gate` is given twice
            first given here: lantern.yaml:3:11
            help: keep one of the two: YAML readers disagree on which would count
        """,
    ),
)


@pytest.mark.parametrize("slip", SLIPS, ids=lambda slip: slip.what)
def test_a_slip_of_layout_brings_one_finding_that_says_what_to_write(slip: Slip) -> None:
    assert seen_in_song(slip.text) == block(slip.seen)
