"""Programs that are both a patch and a value of a control: only where they are one message to the box."""

from __future__ import annotations

import pytest

from tests.support import judged, names


def found(definition: str, channels: str, patch: int) -> list[str]:
    """The errors of a rig with one more box, which has one patch at a panel number."""
    show = judged(
        {
            "definitions/amp.yaml": f"definition: amp\n{definition}",
            "rigs/b-rig.yaml": f"""\
rig: B rig
like: a-rig
devices: {{amp: {{port: rack, {channels}, definition: amp, patches: {{p: {patch}}}}}}}
home: {{amp: {{patch: p, relay: off}}}}
""",
            "show.yaml": "show: T\nrigs: [b-rig]\nlegs: {t: {rigs: [b-rig], setlist: [lantern]}}\n",
        }
    )
    return [name for name in names(show) if name.startswith("program-shared")]


FLIPPED = """\
programs: {count: 16, first: 0}
controls: {relay: {kind: switch, program: yes, toggle: {press: 5, release: 6}, powers-up: off}}
"""


@pytest.mark.parametrize("patch", [5, 6])
def test_what_a_flipped_switch_is_pressed_and_released_with_is_taken(patch: int) -> None:
    assert found(FLIPPED, "channel: 9", patch) == ["program-shared rigs/b-rig.yaml:3"]


@pytest.mark.parametrize("patch", [0, 1, 4, 7])
def test_the_positions_of_a_flipped_switch_are_no_programs(patch: int) -> None:
    assert found(FLIPPED, "channel: 9", patch) == []


APART = """\
programs: {count: 16, first: 0, channel: upper}
controls: {relay: {kind: switch, program: yes, codes: {on: 5, off: 6}}}
"""


def test_programs_on_another_channel_are_not_shared() -> None:
    assert found(APART, "channels: {main: 9, upper: 10}", 5) == []


def test_two_names_for_one_channel_share_its_programs() -> None:
    assert found(APART, "channels: {main: 9, upper: 9}", 5) == ["program-shared rigs/b-rig.yaml:3"]
