"""Names misspelt or unknown: each brings one finding, with the nearest known name or what there is.

Each row changes one piece of the base show:

    # lantern.yaml
    song: Lantern
    tempo: 120
    scenes:
      verse: {at: bar 1, gate: tight}
      chorus: {at: bar 9, like: verse, echo: cliff}
"""

from __future__ import annotations

import pytest

from tests.syntax.slip import Changed, block, seen_after

NAMES = (
    Changed(
        "gate: tight",
        "gate: tigt",
        """
        lantern.yaml:4:28: error unknown-word: `gate` has no word `tigt`
            help: did you mean `tight`?
        """,
    ),
    Changed(
        "gate: tight",
        "gate: shut",
        """
        lantern.yaml:4:28: error unknown-word: `gate` has no word `shut`
            help: known here as words of `gate`: `loose`, `tight`
        """,
    ),
    Changed(
        "gate: tight",
        "gatr: tight",
        """
        lantern.yaml:4:22: error unknown-name: nothing is called `gatr`: no entry, device or control
            help: did you mean `gate`?
        """,
    ),
    Changed(
        "gate: tight",
        "noise: tight",
        """
        lantern.yaml:4:22: error unknown-name: nothing is called `noise`: no entry, device or control
            help: known here as entries and devices: `echo`, `gate`, `gate-1`
        """,
    ),
    Changed(
        "gate: tight",
        "gate: ~",
        """
        lantern.yaml:4:28: error unknown-word: `gate` has no word `~`
            help: known here as words of `gate`: `loose`, `tight`
        """,
    ),
    Changed(
        "echo: cliff",
        "ecko: cliff",
        """
        lantern.yaml:5:36: error unknown-name: nothing is called `ecko`: no entry, device or control
            help: did you mean `echo`?
        """,
    ),
    Changed(
        "echo: cliff",
        "Echo: cliff",
        """
        lantern.yaml:5:36: error unknown-name: nothing is called `Echo`: no entry, device or control
            help: did you mean `echo`?
        """,
    ),
    Changed(
        "echo: cliff",
        "echo: clif",
        """
        lantern.yaml:5:42: error missing-patch: `echo` has no patch `clif`
            help: did you mean `cliff`?
        """,
    ),
    Changed(
        "echo: cliff",
        "echo: cavern",
        """
        lantern.yaml:5:42: error missing-patch: `echo` has no patch `cavern`
            help: known here as values of `echo`: `cliff`, `off`, `on`, `slap`
        """,
    ),
    Changed(
        "echo: cliff",
        "echo: 17",
        """
        lantern.yaml:5:42: error missing-patch: `echo` has no patch `17`
            help: known here as values of `echo`: `cliff`, `off`, `on`, `slap`
        """,
    ),
    Changed(
        "echo: cliff",
        "echo: yes",
        """
        lantern.yaml:5:42: error missing-patch: `echo` has no patch `yes`
            help: known here as values of `echo`: `cliff`, `off`, `on`, `slap`
        """,
    ),
    Changed(
        "echo: cliff",
        "echo: On",
        """
        lantern.yaml:5:42: error missing-patch: `echo` has no patch `On`
            help: did you mean `on`?
        """,
    ),
    Changed(
        "echo: cliff",
        "echo.mixx: 40 %",
        """
        lantern.yaml:5:36: error unknown-name: `echo` has no control `mixx`
            help: did you mean `mix`?
        """,
    ),
    Changed(
        "echo: cliff",
        "echo.depth: 40 %",
        """
        lantern.yaml:5:36: error unknown-name: `echo` has no control `depth`
            help: known here as controls of `echo`: `engage`, `mix`, `time`
        """,
    ),
    Changed(
        "echo: cliff",
        "ecko.mix: 40 %",
        """
        lantern.yaml:5:36: error unknown-name: no device is called `ecko`
            help: did you mean `echo`?
        """,
    ),
    Changed(
        "echo: cliff",
        "echo: {engage: on, patch: clif}",
        """
        lantern.yaml:5:62: error missing-patch: `echo` has no patch `clif`
            help: did you mean `cliff`?
        """,
    ),
    Changed(
        "echo: cliff",
        "echo: {engage: on, tine: 480 ms}",
        """
        lantern.yaml:5:55: error unknown-name: `echo` has no control `tine`
            help: did you mean `time`?
        """,
    ),
    Changed(
        "like: verse",
        "like: vrese",
        """
        lantern.yaml:5:29: error unknown-name: no scene is called `vrese`
            help: did you mean `verse`?
        """,
    ),
    Changed(
        "like: verse",
        "like: intro",
        """
        lantern.yaml:5:29: error unknown-name: no scene is called `intro`
            help: known here as scenes: `verse`
        """,
    ),
    Changed(
        "like: verse",
        "lik: verse",
        """
        lantern.yaml:5:23: error unknown-name: nothing is called `lik`: no entry, device or control
            help: did you mean `like`?
        """,
    ),
    Changed(
        "at: bar 9, like",
        "At: bar 9, like",
        """
        lantern.yaml:5:12: error unknown-name: nothing is called `At`: no entry, device or control
            help: did you mean `at`?
        """,
    ),
    Changed(
        "echo: cliff",
        "remrak: louder",
        """
        lantern.yaml:5:36: error unknown-name: nothing is called `remrak`: no entry, device or control
            help: did you mean `remark`?
        """,
    ),
    Changed(
        "echo: cliff",
        "order: cliff",
        """
        lantern.yaml:5:36: error unknown-name: nothing is called `order`: no entry, device or control
            help: known here as entries and devices: `echo`, `gate`, `gate-1`
        """,
    ),
    Changed(
        "tempo: 120",
        "temop: 120",
        """
        lantern.yaml:2:1: error unknown-key: `temop` is no key of this block
            help: did you mean `tempo`?
        """,
    ),
    Changed(
        "tempo: 120",
        "key: B minor",
        """
        lantern.yaml:2:1: error unknown-key: `key` is no key of this block
            help: known here as keys: `base`, `budget`, `hands`, `instrument`, `land`, `meter`, `order`,
                `rate`, `remark`, `scenes`, `song`, `start`, `tempo`, `tuning`
        """,
    ),
    Changed(
        "song: Lantern",
        "sonng: Lantern",
        """
        lantern.yaml:1:1: error unknown-key: `sonng` is no key of this block
            help: did you mean `song`?
        """,
    ),
    Changed(
        "scenes:",
        "scens:",
        """
        lantern.yaml:3:1: error unknown-key: `scens` is no key of this block
            help: did you mean `scenes`?
        """,
    ),
    Changed(
        "tempo: 120",
        "tempo: 120\norder: [verse, chorsu]",
        """
        lantern.yaml:3:16: error unknown-name: no scene is called `chorsu`
            help: did you mean `chorus`?
        """,
    ),
    Changed(
        "tempo: 120",
        "instrument: baritone",
        """
        lantern.yaml:2:13: error unknown-name: no instrument is called `baritone`
            help: there are no instruments here
        """,
    ),
    Changed(
        "tempo: 120",
        "hands: [volume]",
        """
        lantern.yaml:2:9: error unknown-name: no device is called `volume`
            help: known here as devices: `echo`, `gate-1`
        """,
    ),
    Changed(
        "chorus:",
        "like:",
        """
        lantern.yaml:5:3: error bad-name: `like` cannot name a scene: the word has a meaning of its own
            help: choose another name
        """,
    ),
    Changed(
        "chorus:",
        "verse 2.1:",
        """
        lantern.yaml:5:3: error bad-name: `verse 2.1` cannot name a scene: it has a `.` in it
            help: write it without `.`, perhaps with `-` instead
        """,
    ),
    Changed(
        "chorus:",
        "chorus@2:",
        """
        lantern.yaml:5:3: error bad-name: `chorus@2` cannot name a scene: it has a `@` in it
            help: write it without `@`, perhaps with `-` instead
        """,
    ),
)


@pytest.mark.parametrize("change", NAMES, ids=lambda change: change.new)
def test_a_wrong_name_brings_one_finding_with_the_nearest_name_or_what_there_is(change: Changed) -> None:
    assert seen_after(change) == block(change.seen)
