"""Boxes of one definition that hear a message differently: the bytes must do for all of them."""

from __future__ import annotations

import pytest

from switchmatrix.proof.bench import Bench, Wire
from switchmatrix.simulate.standing import Halves
from switchmatrix.states.show import Run
from tests.proof.shown import SHOW, failed, run_of

RIG = """\
rig: A rig
ports: {{rack: {{out: rack, speed: din}}}}
devices:
  box: {{port: rack, {device}, definition: box}}
home: {{box: {{{home}}}}}
"""


def box(definition: str, device: str, home: str, chorus: str) -> Run:
    """A show of one box with two scenes."""
    return run_of(
        {
            "show.yaml": SHOW,
            "definitions/box.yaml": f"definition: box\n{definition}\n",
            "rigs/a-rig.yaml": RIG.format(device=device, home=home),
            "lantern.yaml": f"song: Lantern\nscenes: {{verse: {{}}, chorus: {{box: {{{chorus}}}}}}}\n",
        }
    )


def instead(sent: str, arrives: str) -> Wire:
    """A wire on which something else arrives for these messages, written as hex with commas."""
    given = [tuple(bytes.fromhex(m) for m in text.split(",") if m) for text in (sent, arrives)]
    return lambda _, data: given[1] if data == given[0] else data


WIDE = "controls: {time: {kind: level, cc14: [12, 44], range: [0, 16383]}}"


@pytest.mark.parametrize(
    ("definition", "kinds"),
    [
        ("controls: {mix: {kind: level, cc: 20, range: [0, 127]}}", [Halves.ZEROED]),
        (WIDE, [Halves.ZEROED, Halves.KEPT]),
        ("controls: {rate: {kind: level, nrpn: [1, 8], data: 7, range: [0, 127]}}", [Halves.ZEROED]),
        (
            "controls: {rate: {kind: level, nrpn: [1, 8], data: 14, range: [0, 127]}}",
            [Halves.ZEROED, Halves.KEPT],
        ),
    ],
)
def test_a_box_with_halves_is_two_kinds_of_box(definition: str, kinds: list[Halves]) -> None:
    name = definition.split("{")[1].split(":")[0]
    device = box(definition, "channel: 1", f"{name}: 1", f"{name}: 2").rig.devices[0]
    assert [one.unit.halves for one in Bench(device).receivers] == kinds


# MIDI 1.0 Detailed Specification 4.2.1, p. 12: an MSB sets the LSB to 0. A box that leaves it (common
# practice) needs the LSB of 0, and one that does not needs an LSB that is the same as before.
@pytest.mark.parametrize(
    ("chorus", "sent", "said"),
    [
        (
            "time: 128",
            "B0 0C 01,B0 2C 00",
            "wanted 128 (code 128); got    upper half 1, and nobody knows what lower half",
        ),
        ("time: 129", "B0 0C 01,B0 2C 01", "wanted 129 (code 129); got    128 (code 128)"),
    ],
)
def test_an_lsb_that_only_some_boxes_need_is_missed(chorus: str, sent: str, said: str) -> None:
    run = box(WIDE, "channel: 1", "time: 1", chorus)
    assert failed(run) == []
    assert failed(run, instead(sent, "B0 0C 01")) == [
        f"from unknown (and from 1 more) to lantern chorus: box.time; {said}; bytes  B0 0C 01"
    ]


BANKED = """\
programs: {count: 300, first: 0, bank: cc0, bank-when: always, repeat: recalls}
controls: {relay: {kind: choice, program: yes, bank: 2, channel: side, values: {left: 90, right: 91}}}"""


# A bank for each channel, or one for all: both are common practice.
def test_a_bank_that_another_channels_bank_may_replace_is_caught() -> None:
    run = run_of(
        {
            "show.yaml": SHOW,
            "definitions/box.yaml": f"definition: box\n{BANKED}\n",
            "rigs/a-rig.yaml": RIG.format(
                device="channels: {main: 1, side: 2}, patches: {slap: 4}", home="patch: slap, relay: left"
            ),
            "lantern.yaml": "song: Lantern\nscenes: {verse: {}}\n",
        }
    )
    sent, arrives = "B0 00 00,C0 04,B1 00 01,C1 5A", "B1 00 01,B0 00 00,C0 04,C1 5A"
    assert failed(run) == []
    assert failed(run, instead(sent, arrives)) == [
        "from unknown to lantern verse: box.relay; wanted left (code 90); got    nobody knows what; "
        "bytes  B1 00 01, B0 00 00, C0 04, C1 5A"
    ]
