"""The slips of a person in a hurry, among colons, commas and brackets."""

from __future__ import annotations

import pytest

from tests.syntax.slip import Slip, block, seen_in_song

SLIPS = (
    Slip(
        "no space after a colon in braces",
        """
        song: Lantern
        scenes:
          verse: {gate: tight, echo:cliff}
          chorus: {gate: loose}
        """,
        """
        lantern.yaml:3:24: error yaml-syntax: `echo:cliff` is one word: there is no space after its
            colon
            help: put a space after the colon: `echo: cliff`
        """,
    ),
    Slip(
        "no space after the first colon in braces",
        """
        song: Lantern
        scenes:
          verse: {gate:tight, echo: cliff}
        """,
        """
        lantern.yaml:3:11: error yaml-syntax: `gate:tight` is one word: there is no space after its
            colon
            help: put a space after the colon: `gate: tight`
        """,
    ),
    Slip(
        "no space after the colon of a block's last line",
        """
        song: Lantern
        scenes:
          verse:
            echo: cliff
            gate:tight
        """,
        """
        lantern.yaml:5:5: error yaml-syntax: there is no space after the colon
            help: put a space after the colon: `gate: tight`
        """,
    ),
    Slip(
        "no space after the colon of a block's first line",
        """
        song: Lantern
        scenes:
          verse:
            gate:tight
            echo: cliff
        """,
        """
        lantern.yaml:4:5: error yaml-syntax: there is no space after the colon
            help: put a space after the colon: `gate: tight`
        """,
    ),
    Slip(
        "no space after the colon of a top line",
        """
        song: Lantern
        tempo:120
        scenes:
          verse: {gate: tight}
        """,
        """
        lantern.yaml:2:1: error yaml-syntax: there is no space after the colon
            help: put a space after the colon: `tempo: 120`
        """,
    ),
    Slip(
        "no space after the colon of the very first line",
        """
        song:Lantern
        tempo: 120
        scenes:
          verse: {gate: tight}
        """,
        """
        lantern.yaml:1:1: error yaml-syntax: there is no space after the colon
            help: put a space after the colon: `song: Lantern`
        """,
    ),
    Slip(
        "a comma in a remark in braces",
        """
        song: Lantern
        scenes:
          verse: {remark: capo off, then wait, gate: tight}
        """,
        """
        lantern.yaml:3:29: error value-missing: `then wait` stands alone after a comma: it has no value
            help: write `then: wait`; if it belongs to the text before the comma, put the whole text in
                double quotes: `"..."`
        """,
    ),
    Slip(
        "a colon in a remark in braces",
        """
        song: Lantern
        scenes:
          verse: {remark: note: wait, gate: tight}
        """,
        """
        lantern.yaml:3:19: error yaml-syntax: there is a second colon in this line
            help: if the colon belongs to the text, put the whole text in double quotes: `"..."`
        """,
    ),
    Slip(
        "a colon in a remark of a block",
        """
        song: Lantern
        scenes:
          verse:
            remark: note: wait
            gate: tight
        """,
        """
        lantern.yaml:4:13: error yaml-syntax: there is a second colon in this line
            help: if the colon belongs to the text, put the whole text in double quotes: `"..."`
        """,
    ),
    Slip(
        "no colon after a scene's name",
        """
        song: Lantern
        scenes:
          verse {gate: tight}
          chorus: {gate: loose}
        """,
        """
        lantern.yaml:3:3: error yaml-syntax: there is no colon after `verse`
            help: write `verse: {gate: ...}`
        """,
    ),
    Slip(
        "no colon in a block's first line",
        """
        song: Lantern
        scenes:
          verse:
            gate tight
            echo: cliff
        """,
        """
        lantern.yaml:4:5: error yaml-syntax: `gate tight` has no colon
            help: write `gate: tight`
        """,
    ),
    Slip(
        "no colon in a block's last line",
        """
        song: Lantern
        scenes:
          verse:
            echo: cliff
            gate tight
        """,
        """
        lantern.yaml:5:5: error yaml-syntax: `gate tight` has no colon
            help: write `gate: tight`
        """,
    ),
    Slip(
        "no colon in a top line",
        """
        song: Lantern
        tempo 120
        scenes:
          verse: {gate: tight}
        """,
        """
        lantern.yaml:2:1: error yaml-syntax: `tempo 120` has no colon
            help: write `tempo: 120`
        """,
    ),
    Slip(
        "no colon after scenes",
        """
        song: Lantern
        scenes
          verse: {gate: tight}
        """,
        """
        lantern.yaml:2:1: error yaml-syntax: `scenes` has no colon
            help: write `scenes:`
        """,
    ),
    Slip(
        "no colon in the first line in braces",
        """
        song: Lantern
        scenes:
          verse: {gate tight, echo: cliff}
        """,
        """
        lantern.yaml:3:11: error yaml-syntax: `gate tight` has no colon
            help: write `gate: tight`
        """,
    ),
    Slip(
        "braces forgotten around a scene's lines",
        """
        song: Lantern
        scenes:
          verse: gate: tight, echo: cliff
        """,
        """
        lantern.yaml:3:10: error yaml-syntax: there is a second colon in this line
            help: put the lines of `verse` in braces; if the colon belongs to the text, put the whole
                text in double quotes: `"..."`
        """,
    ),
    Slip(
        "a brace never closed, more scenes below",
        """
        song: Lantern
        scenes:
          verse: {gate: tight
          chorus: {gate: loose, echo: cliff}
        """,
        """
        lantern.yaml:3:10: error yaml-syntax: `{` is never closed
            noticed here: lantern.yaml:4:9
            help: write the missing `}`
        """,
    ),
    Slip(
        "a brace never closed, nothing below",
        """
        song: Lantern
        scenes:
          verse: {gate: tight}
          chorus: {gate: loose, echo: cliff
        """,
        """
        lantern.yaml:4:11: error yaml-syntax: `{` is never closed
            noticed here: lantern.yaml:5:1
            help: write the missing `}`
        """,
    ),
    Slip(
        "an inner brace never closed",
        """
        song: Lantern
        scenes:
          verse: {gate: tight}
          chorus: {gate: loose, echo: {engage: on, patch: cliff}
        """,
        """
        lantern.yaml:4:11: error yaml-syntax: `{` is never closed
            noticed here: lantern.yaml:5:1
            help: write the missing `}`
        """,
    ),
    Slip(
        "an inner brace never closed, more scenes below",
        """
        song: Lantern
        scenes:
          chorus: {echo: {engage: on, patch: cliff}
          verse: {gate: tight}
        """,
        """
        lantern.yaml:3:11: error yaml-syntax: `{` is never closed
            noticed here: lantern.yaml:4:3
            help: write the missing `}`
        """,
    ),
    Slip(
        "a bracket never closed in braces",
        """
        song: Lantern
        tempo: 120
        scenes:
          verse: {at: [bar 1, bar 9, gate: tight}
          chorus: {at: bar 5, gate: loose}
        """,
        """
        lantern.yaml:4:15: error yaml-syntax: `[` is never closed
            noticed here: lantern.yaml:4:41
            help: write the missing `]`
        """,
    ),
    Slip(
        "a bracket never closed in a block",
        """
        song: Lantern
        tempo: 120
        scenes:
          verse:
            at: [bar 1, bar 9
            gate: tight
        """,
        """
        lantern.yaml:5:9: error yaml-syntax: `[` is never closed
            noticed here: lantern.yaml:6:9
            help: write the missing `]`
        """,
    ),
    Slip(
        "a brace too many",
        """
        song: Lantern
        scenes:
          verse: {gate: tight}}
          chorus: {gate: loose}
        """,
        """
        lantern.yaml:3:23: error yaml-syntax: `}` does not belong here
            help: delete it, or write what goes before it
        """,
    ),
    Slip(
        "a bracket too many in braces",
        """
        song: Lantern
        scenes:
          verse: {gate: tight], echo: cliff}
        """,
        """
        lantern.yaml:3:22: error yaml-syntax: `]` does not belong here
            help: delete it, or write the missing `[`
        """,
    ),
    Slip(
        "a bracket too many in a block",
        """
        song: Lantern
        scenes:
          verse:
            echo: cliff
            gate: tight]
        """,
        """
        lantern.yaml:5:11: error unknown-word: `gate` has no word `tight]`
            help: did you mean `tight`?
        """,
    ),
    Slip(
        "a comma too many",
        """
        song: Lantern
        scenes:
          verse: {gate: tight,, echo: cliff}
        """,
        """
        lantern.yaml:3:23: error yaml-syntax: `,` does not belong here
            help: delete it, or write what goes before it
        """,
    ),
    Slip(
        "a hash that hides the closing brace",
        """
        song: Lantern
        scenes:
          verse: {gate: tight, remark: wait for cue #4}
          chorus: {gate: loose}
        """,
        """
        lantern.yaml:3:45: error yaml-syntax: `#` after a space begins a comment, so `}` is not read
            help: put the whole text in double quotes: `"..."`
        """,
    ),
)


@pytest.mark.parametrize("slip", SLIPS, ids=lambda slip: slip.what)
def test_a_slip_brings_one_finding_that_says_what_to_write(slip: Slip) -> None:
    assert seen_in_song(slip.text) == block(slip.seen)
