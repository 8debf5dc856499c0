"""Which controller numbers may carry a control.

MIDI 1.0 Detailed Specification 4.2.1, Table III (p. T-3) and Table IV (p. T-5); MIDI Association,
Control Change Messages (Table 3).
"""

from __future__ import annotations

import pytest

from tests.support import findings, judged, names, sent

BANK_SELECT = (0, 32)
DATA_ENTRY = (6, 38)
DATA_STEPS = (96, 97)
PARAMETER_NUMBERS = (98, 99, 100, 101)
CHANNEL_MODE = (120, 121, 122, 123, 124, 125, 126, 127)
RESERVED = sorted((*BANK_SELECT, *DATA_ENTRY, *DATA_STEPS, *PARAMETER_NUMBERS, *CHANNEL_MODE))
FREE = [number for number in range(128) if number not in RESERVED]

ONE_CONTROL_A_NUMBER = "definition: every number\ncontrols:\n" + "".join(
    f"  c{number}: {{kind: switch, cc: {number}}}\n" for number in range(128)
)
"""The switch of controller number N stands on line N + 3."""


def test_eighteen_numbers_are_reserved() -> None:
    assert (len(RESERVED), len(FREE)) == (18, 110)


def test_every_reserved_number_is_refused_as_a_control_and_no_other() -> None:
    show = judged({"definitions/every-number.yaml": ONE_CONTROL_A_NUMBER})
    assert names(show) == [f"cc-reserved definitions/every-number.yaml:{n + 3}" for n in RESERVED]


def test_reserved_number_is_refused_as_a_crosspoint_output() -> None:
    show = judged(
        {
            "definitions/selector.yaml": """\
definition: selector
crosspoint:
  out-a: {cc: 32, inputs: {in-1: 0, in-2: 1}}
  out-b: {cc: 33, inputs: {in-1: 0, in-2: 1}}
"""
        }
    )
    assert names(show) == ["cc-reserved definitions/selector.yaml:3"]


def test_reserved_number_is_refused_as_a_loop() -> None:
    show = judged({"definitions/switcher.yaml": "definition: switcher\nloops: {cc: [80, 96, 81, 127]}\n"})
    assert findings(show) == [
        "definitions/switcher.yaml:2:18: error cc-reserved: "
        "CC 96 is no control: it is data entry for a parameter number",
        "definitions/switcher.yaml:2:26: error cc-reserved: "
        "CC 127 is no control: it is a channel mode message",
    ]


@pytest.mark.parametrize("number", ["128", "255"])
def test_number_past_seven_bits_is_no_controller(number: str) -> None:
    show = judged(
        {"definitions/box.yaml": f"definition: box\ncontrols:\n  a: {{kind: switch, cc: {number}}}\n"}
    )
    assert names(show) == ["number-outside definitions/box.yaml:3"]


EVERY_FREE_NUMBER = "definition: every free number\ncontrols:\n" + "".join(
    f"  c{number}: {{kind: level, cc: {number}, range: [0, 127]}}\n" for number in FREE
)
RIG = """\
rig: A rig
ports: {rack: {out: rack, speed: din}}
devices: {box: {port: rack, channel: 10, definition: every-free-number}}
home: {box: {HOME}}
""".replace("HOME", ", ".join(f"c{number}: {127 - number}" for number in FREE))
SHOW = {
    "show.yaml": "show: One box\nrigs: [a-rig]\nlegs: {tour: {rigs: [a-rig], setlist: [song]}}\n",
    "song.yaml": "song: Song\nscenes: {only: {}}\n",
    "rigs/a-rig.yaml": RIG,
    "definitions/every-free-number.yaml": EVERY_FREE_NUMBER,
}


# Table I (p. T-1): Bn, the controller's number, its value; n is 9 on channel 10.
def test_every_free_number_is_sent_as_itself() -> None:
    show = judged(SHOW, base=None)
    assert [line[-8:] for line in sent(show, "song", "only")] == [
        f"B9 {number:02X} {127 - number:02X}" for number in FREE
    ]
