"""Programs: banks, recalls, repeats, remaps, and controls that travel as programs."""

from __future__ import annotations

import pytest

from switchmatrix.simulate.receiver import Receiver
from switchmatrix.simulate.standing import UNKNOWN, AsStored, Halves, Standing
from tests.simulate.boxes import box, now, program, start, told

CONTROLS = """
controls:
  engage: {kind: switch, cc: 80}
  mix: {kind: level, cc: 21, range: [0, 127], stored: yes}
  time: {kind: level, cc: 22, range: [0, 127], stored: yes}"""

PATCHES = "channel: 1, patches: {slap: 4, cliff: {at: 5, stores: {mix: 35}}}"


def echo(repeat: str) -> Receiver:
    """A box with that repeat."""
    text = f"programs: {{count: 10, first: 0, settle: 1 ms, repeat: {repeat}}}"
    return box(text + CONTROLS, PATCHES)


def test_recall_brings_codes_where_they_are_listed_and_else_what_is_stored() -> None:
    after = now(echo("recalls"), "C0 05", start(echo("recalls"), 127, 1, 2, patch=program(4)))
    assert (after.patch, after.controls) == (program(5), (127, 35, AsStored(program(5))))


def test_program_that_the_box_has_not_got_does_nothing() -> None:
    one = echo("recalls")
    at = start(one, 127, 1, 2, patch=program(4))
    assert now(one, "C0 0A", at) == at


def after_repeat(repeat: str, *before: Standing, patch: int | None = 5) -> tuple[Standing, ...]:
    """Where the controls stand when patch 5 is called in patch `patch`."""
    one = echo(repeat)
    return now(one, "C0 05", start(one, *before, patch=UNKNOWN if patch is None else program(patch))).controls


def test_repeat_that_recalls_recalls() -> None:
    assert after_repeat("recalls", 127, 1, 2) == (127, 35, AsStored(program(5)))


def test_repeat_that_does_nothing_leaves_edits() -> None:
    assert after_repeat("nothing", 127, 1, 2) == (127, 1, 2)


def test_repeat_that_flips_a_switch_may_load_the_patch_besides() -> None:
    assert after_repeat("toggles engage", 127, 1, AsStored(program(5))) == (0, UNKNOWN, AsStored(program(5)))


def test_repeat_that_flips_a_switch_from_unknown_leaves_it_unknown() -> None:
    assert after_repeat("toggles engage", UNKNOWN, 35, 2) == (UNKNOWN, 35, UNKNOWN)


@pytest.mark.parametrize(("repeat", "engage"), [("nothing", 127), ("toggles engage", UNKNOWN)])
def test_possible_repeat_is_sure_of_nothing_but_what_stands_there_anyway(
    repeat: str, engage: Standing
) -> None:
    assert after_repeat(repeat, 127, 35, 2, patch=None) == (engage, 35, UNKNOWN)


@pytest.mark.parametrize("repeat", ["nothing", "toggles engage", "recalls"])
def test_other_program_recalls_whatever_a_repeat_does(repeat: str) -> None:
    assert after_repeat(repeat, 127, 1, 2, patch=4) == (127, 35, AsStored(program(5)))


# Banks


def banked(scheme: str, halves: Halves = Halves.ZEROED) -> Receiver:
    """A box of 300 programs in banks of 100."""
    text = f"""\
programs:
  {{count: 300, first: 0, bank: {scheme}, bank-when: change, bank-size: 100, settle: 1 ms,
   repeat: recalls}}
controls: {{mix: {{kind: level, cc: 21, range: [0, 1], stored: yes}}}}"""
    return box(text, halves=halves)


@pytest.mark.parametrize(
    ("scheme", "sent", "bank"),
    [
        ("cc0", "B0 00 02 C0 05", 2),
        ("cc0", "B0 00 02 20 01 C0 05", 2),
        ("cc32", "B0 20 02 C0 05", 2),
        ("cc32", "B0 00 01 20 02 C0 05", 2),
        ("both", "B0 00 00 20 02 C0 05", 2),
    ],
)
def test_each_scheme_reads_its_own_bank_select(scheme: str, sent: str, bank: int) -> None:
    assert now(banked(scheme), sent).patch == program(5, bank)


def test_half_of_a_bank_select_of_two_leaves_the_patch_unknown_on_a_box_that_keeps_the_other() -> None:
    assert now(banked("both", Halves.KEPT), "B0 00 00 C0 05").patch == UNKNOWN


def test_bank_that_nobody_selected_leaves_patch_and_stored_controls_unknown() -> None:
    one = banked("cc0")
    after = now(one, "C0 05", start(one, 7, patch=program(5, 1)))
    assert (after.patch, after.controls) == (UNKNOWN, (UNKNOWN,))


def test_bank_that_the_box_was_in_counts() -> None:
    one = banked("cc32")
    after = now(one, "C0 05", start(one, 7, patch=program(5, 1), bank=1))
    assert (after.patch, one.unit.bank(after)) == (program(5, 1), 1)


@pytest.mark.parametrize("scheme", ["cc0", "cc32", "both"])
def test_box_starts_in_the_bank_that_is_said(scheme: str) -> None:
    one = banked(scheme)
    assert now(one, "C0 05", start(one, 7, bank=2)).patch == program(5, 2)


def test_bank_is_that_of_the_channel_that_calls_patches() -> None:
    text = """\
programs: {count: 300, first: 0, bank: both, bank-when: change, settle: 1 ms, channel: far}
controls: {mix: {kind: level, cc: 21, range: [0, 127]}}"""
    one = box(text, "channels: {main: 1, far: 2}")
    after = now(one, "C1 05", start(one, 7, bank=1))
    assert (after.patch, one.unit.bank(after)) == (program(5, 1), 1)


@pytest.mark.parametrize("sent", ["B0 00 03 C0 00", "B0 00 02 C0 64", "B0 00 00 C0 64"])
def test_program_outside_the_banks_does_nothing(sent: str) -> None:
    one = banked("cc0")
    assert now(one, sent, start(one, 7, patch=program(5, 1), bank=1)).patch == program(5, 1)


# Remaps

REMAPPED = f"""\
programs:
  {{count: 300, first: 0, remap: {{5: 212}}, bank: cc0, bank-when: change, bank-size: 100, settle: 1 ms,
   repeat: nothing}}
{CONTROLS}"""


def test_remapped_program_calls_the_other_place() -> None:
    assert now(box(REMAPPED), "B0 00 00 C0 05").patch == program(12, 2)


def test_remapped_program_of_the_place_that_the_box_is_in_is_a_repeat() -> None:
    one = box(REMAPPED)
    at = start(one, 127, 1, 2, patch=program(12, 2), bank=2)
    assert now(one, "B0 00 00 C0 05", at).controls == (127, 1, 2)


def test_patch_given_by_an_address_that_is_remapped_stores_at_the_place_it_calls() -> None:
    one = box(REMAPPED, "channel: 1, patches: {far: {bank: 1, program: 6, stores: {mix: 9}}}")
    assert now(one, "B0 00 02 C0 0C").controls == (UNKNOWN, UNKNOWN, UNKNOWN)
    at = start(one, 127, 1, 2, patch=program(0, 0))
    assert now(one, "B0 00 02 C0 0C", at).controls == (127, 9, AsStored(program(12, 2)))


# Controls that travel as programs

CHANNELS = """\
programs: {count: 100, first: 0, settle: 1 ms, repeat: recalls}
controls:
  channel: {kind: choice, program: yes, values: {clean: 100, lead: 101-103}}
  gain: {kind: level, cc: 21, range: [0, 127], stored: yes}"""


def test_program_of_a_control_sets_it_and_calls_no_patch() -> None:
    one = box(CHANNELS)
    after = now(one, "C0 66", start(one, 100, 5, patch=program(5)))
    assert (after.patch, after.controls) == (program(5), (102, 5))


def test_other_program_calls_a_patch() -> None:
    one = box(CHANNELS)
    after = now(one, "C0 06", start(one, 100, 5, patch=program(5)))
    assert (after.patch, after.controls) == (program(6), (100, AsStored(program(6))))


BANKED_CONTROL = """\
programs: {count: 256, first: 0, bank: cc0, bank-when: change, settle: 1 ms, repeat: recalls}
controls:
  kit: {kind: choice, program: yes, bank: 4, values: {drums: 5, bells: 6}}
  level: {kind: level, cc: 21, range: [0, 127], stored: yes}"""


def test_program_carried_control_acts_in_its_own_bank_only() -> None:
    one = box(BANKED_CONTROL)
    at = start(one, 6, 7, patch=program(9, 0), bank=0)
    assert [
        (now(one, sent, at).patch, now(one, sent, at).controls) for sent in ("B0 00 03 C0 05", "C0 05")
    ] == [
        (program(9, 0), (5, 7)),
        (program(5, 0), (6, AsStored(program(5, 0)))),
    ]


def test_program_in_an_unknown_bank_may_be_the_controls_or_a_patchs() -> None:
    one = box(BANKED_CONTROL)
    after = now(one, "C0 05", start(one, 6, 7, patch=program(9, 0)))
    assert (after.patch, after.controls) == (UNKNOWN, (UNKNOWN, UNKNOWN))


@pytest.mark.parametrize(("sent", "kit"), [("B0 00 03 C1 05", UNKNOWN), ("B1 00 03 C1 05", 5)])
def test_bank_select_belongs_to_its_channel(sent: str, kit: Standing) -> None:
    one = box(BANKED_CONTROL.replace("bank: 4,", "bank: 4, channel: kits,"), "channels: {main: 1, kits: 2}")
    after = now(one, sent, start(one, 6, 7, patch=program(9, 0), bank=0))
    assert (after.patch, after.controls) == (program(9, 0), (kit, 7))


def test_recall_tells_the_patch_and_what_it_moved() -> None:
    said = told(banked("cc0"), "B0 00 01 C0 05")
    assert [(t.moved, t.noted) for t in said] == [((), True), (("patch", "mix"), False)]
