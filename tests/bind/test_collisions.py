"""Controls of one definition that one message stands for: said once a pair, at the definition."""

from __future__ import annotations

import pytest

from tests.support import judged, names


def found(controls: str, programs: str = "") -> list[str]:
    """The findings of a definition that no rig uses."""
    text = f"definition: box\n{programs}controls:\n{controls}"
    return names(judged({"definitions/box.yaml": text}))


CLASHING = (
    "  a: {kind: level, cc: 20, range: [0, 127]}\n  b: {kind: level, cc: 20, range: [0, 127]}\n",
    "  a: {kind: level, cc14: [12, 44], range: [0, 9]}\n  b: {kind: level, cc: 44, range: [0, 127]}\n",
    "  a: {kind: level, cc14: [12, 44], range: [0, 9]}\n  b: {kind: level, cc14: [12, 44], range: [0, 9]}\n",
    "  a: {kind: switch, program: yes, codes: {on: 5, off: 6}}\n"
    "  b: {kind: switch, program: yes, codes: {on: 6, off: 7}}\n",
    "  a: {kind: trigger, sysex: {body: [0x7D, 1, 5]}}\n"
    "  b: {kind: level, sysex: {body: [0x7D, 1, value]}, range: [0, 127]}\n",
    "  a: {kind: switch, cc: 21, also-cc: [20]}\n  b: {kind: level, cc: 20, range: [0, 127]}\n",
    "  a: {kind: level, nrpn: [1, 8], data: 7, range: [0, 9]}\n"
    "  b: {kind: level, nrpn: [1, 8], data: 7, range: [0, 9]}\n",
)


@pytest.mark.parametrize("controls", CLASHING)
def test_two_controls_that_one_message_moves_are_said_once(controls: str) -> None:
    line = 3 if controls.count("\n") == 2 else 4
    assert found(controls) == [f"carrier-twice definitions/box.yaml:{line + 1}"]


APART = (
    "  a: {kind: switch, program: yes, codes: {on: 5, off: 6}}\n"
    "  b: {kind: switch, program: yes, codes: {on: 7, off: 8}}\n",
    "  a: {kind: trigger, sysex: {body: [0x7D, 1, 5]}}\n"
    "  b: {kind: level, sysex: {body: [0x7D, 2, value]}, range: [0, 127]}\n",
    "  a: {kind: level, cc: 20, range: [0, 127]}\n  b: {kind: level, cc: 20, channel: x, range: [0, 127]}\n",
    "  a: {kind: level, nrpn: [1, 8], data: 7, range: [0, 9]}\n"
    "  b: {kind: level, rpn: [1, 8], data: 7, range: [0, 9]}\n",
    "  a: {kind: switch, note: 60}\n  b: {kind: switch, note: 61}\n",
)


@pytest.mark.parametrize("controls", APART)
def test_controls_that_no_one_message_moves_are_no_finding(controls: str) -> None:
    assert found(controls) == []


def test_a_cc_that_is_the_controls_own_carrier_is_not_also_its() -> None:
    assert found("  a: {kind: switch, cc: 20, also-cc: [20]}\n") == ["carrier-twice definitions/box.yaml:3"]


@pytest.mark.parametrize("third", ["0x02", "value", "id", "checksum"])
def test_show_control_is_a_hazard_and_so_is_what_could_become_it(third: str) -> None:
    summed = ", checksum: [4, 5]" if third == "checksum" else ""
    controls = f"  go: {{kind: trigger, sysex: {{body: [0x7F, 1, {third}, 1, 1]{summed}}}}}\n"
    assert found(controls) == ["hazard definitions/box.yaml:3"]


def test_a_key_that_is_held_while_on_is_not_let_go_at_once() -> None:
    controls = "  pad: {kind: switch, note: 60, release: yes, codes: {on: 100, off: 0}}\n"
    assert found(controls) == ["carrier-wrong definitions/box.yaml:3"]


def test_a_choice_that_resets_what_writes_memory_is_refused() -> None:
    controls = (
        "  mode: {kind: choice, cc: 20, values: {a: 0, b: 1}, resets: [wr]}\n"
        "  wr: {kind: switch, cc: 21, writes: yes}\n"
    )
    assert found(controls) == ["writes-memory definitions/box.yaml:3"]
