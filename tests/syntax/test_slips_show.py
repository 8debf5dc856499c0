"""Slips in show.yaml: each brings one finding, and none follows from it.

Each row changes one piece of the base show:

    # show.yaml
    show: Tidewrack
    rigs: [a-rig]
    legs:
      tour: {rigs: [a-rig], setlist: [lantern]}
"""

from __future__ import annotations

import pytest

from tests.syntax.slip import Changed, block, seen_after

SLIPS = (
    Changed(
        "rigs: [a-rig]\n",
        "rigs: [a-rigg]\n",
        """
        show.yaml:2:8: error unknown-name: no rig is called `a-rigg`
            help: did you mean `a-rig`?
        """,
        path="show.yaml",
    ),
    Changed(
        "{rigs: [a-rig]",
        "{rigs: [main]",
        """
        show.yaml:4:17: error unknown-name: no rig is called `main`
            help: known here as rigs of this show: `a-rig`
        """,
        path="show.yaml",
    ),
    Changed(
        "rigs: [a-rig]\n",
        "rigs: a-rig\n",
        """
        show.yaml:2:7: error wrong-shape: `a-rig` is not a list in brackets
            help: write a list in brackets for `rigs`
        """,
        path="show.yaml",
    ),
    Changed(
        "[lantern]",
        "[lantrn]",
        """
        show.yaml:4:35: error unknown-name: no song is called `lantrn`
            help: did you mean `lantern`?
        """,
        path="show.yaml",
    ),
    Changed(
        "[lantern]",
        "[../lantern]",
        """
        show.yaml:4:35: error unknown-name: no song is called `../lantern`
            help: did you mean `lantern`?
        """,
        path="show.yaml",
    ),
    Changed(
        "[lantern]",
        "lantern",
        """
        show.yaml:4:34: error wrong-shape: `lantern` is not a list in brackets
            help: write a list in brackets for `setlist`
        """,
        path="show.yaml",
    ),
    Changed(
        "[lantern]",
        "[lantern, {standing: silence}]",
        """
        show.yaml:4:55: error standing-missing: no standing scene is called `silence`
            help: write it under `standing` in rigs/a-rig.yaml
        """,
        path="show.yaml",
    ),
    Changed(
        "setlist",
        "set-list",
        """
        show.yaml:4:25: error unknown-key: `set-list` is no key of this block
            help: did you mean `setlist`?
        """,
        path="show.yaml",
    ),
    Changed(
        "legs:",
        "leg:",
        """
        show.yaml:3:1: error unknown-key: `leg` is no key of this block
            help: did you mean `legs`?
        """,
        path="show.yaml",
    ),
    Changed(
        "[lantern]",
        "[lantern], changes: {lantren: {base: {gate: tight}}}",
        """
        show.yaml:4:55: error unknown-name: no song is called `lantren`
            help: did you mean `lantern`?
        """,
        path="show.yaml",
    ),
    Changed(
        "[lantern]",
        "[lantern], changes: {lantern: {scenes: {vers: {gate: loose}}}}",
        """
        show.yaml:4:74: error unknown-name: no scene is called `vers`
            help: did you mean `verse`?
        """,
        path="show.yaml",
    ),
    Changed(
        "[lantern]",
        "[lantern], changes: {lantern: {scenes: {chorus: {gate: lose}}}}",
        """
        show.yaml:4:89: error unknown-word: `gate` has no word `lose`
            help: did you mean `loose`?
        """,
        path="show.yaml",
    ),
    Changed(
        "tour:",
        "a/b:",
        """
        show.yaml:4:3: error bad-name: `a/b` cannot name a leg: a folder of that name is made for it
            help: use letters, digits, spaces and `-` only
        """,
        path="show.yaml",
    ),
)


@pytest.mark.parametrize("change", SLIPS, ids=lambda change: change.new)
def test_a_slip_in_the_show_brings_one_finding(change: Changed) -> None:
    assert seen_after(change) == block(change.seen)
