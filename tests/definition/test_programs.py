"""Programs from the panel to the wire and back, over every program of every scheme."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from switchmatrix.definition.programs import Programs
from switchmatrix.midi.numbers import Address, WireBank, WireProgram
from tests.definition.kit import programs

SCHEMES = {
    "numbers from 1": "count: 128, first: 1",
    "numbers from 0": "count: 128, first: 0",
    "few numbers": "count: 5, first: 1",
    "one program": "count: 1, first: 0",
    "420 on a panel, CC 0": "count: 420, panel: {banks: A-G, slots: 1-60}, bank: cc0, bank-when: always",
    "420 on a panel, CC 32": "count: 420, panel: {banks: A-G, slots: 1-60}, bank: cc32, bank-when: change",
    "420, both": "count: 420, panel: {banks: A-G, slots: 1-60}, bank: both, bank-when: change",
    "32 banks of four, a dash between": "count: 128, panel: {banks: 01-32, slots: 1-4, between: '-'}",
    "user and preset": (
        "count: 200, panel: {banks: [U, P], slots: 1-100}, bank: both, bank-when: always, bank-size: 100"
    ),
    "letters in the slots": "count: 99, panel: {banks: 0-32, slots: A-C}",
    "lower-case letters": "count: 8, panel: {banks: 1-2, slots: a-d, between: ' '}",
    "slots from 0": "count: 100, panel: {banks: 0-9, slots: 0-9}",
    "a panel that shows more than there are": "count: 11, panel: {banks: A-C, slots: 1-5}",
    "a name for a bank": "count: 6, panel: {banks: [USER, ROM A, ROM B], slots: 1-2, between: ' '}",
    "banks of 100, numbers": "count: 512, first: 1, bank: cc0, bank-when: change, bank-size: 100",
    "banks of 50 by CC 32": "count: 350, first: 0, bank: cc32, bank-when: always, bank-size: 50",
    "all that CC 0 tells apart": "count: 16384, first: 1, bank: cc0, bank-when: always",
    "banks of one": "count: 128, first: 1, bank: cc0, bank-when: always, bank-size: 1",
    "remapped, a swap": "count: 16, first: 1, remap: {5: 12, 12: 5}",
    "remapped, a ring": "count: 200, first: 0, bank: both, bank-when: change, remap: {0: 199, 199: 7, 7: 0}",
    "remapped on a panel": "count: 12, panel: {banks: A-C, slots: 1-4}, remap: {A1: C4, C4: B2, B2: A1}",
}


def labels(made: Programs) -> list[str]:
    return [made.panel.label(at) for at in range(made.count)]


@pytest.mark.parametrize("scheme", SCHEMES.values(), ids=SCHEMES)
def test_every_label_of_a_scheme_comes_back_from_the_wire(scheme: str) -> None:
    made = programs(scheme)
    positions = [made.position(label) for label in labels(made)]
    addresses = [made.address(at) for at in positions if at is not None]
    called = [made.called(address) for address in addresses if address is not None]
    assert [made.panel.label(at) for at in called if at is not None] == labels(made)


@pytest.mark.parametrize("scheme", SCHEMES.values(), ids=SCHEMES)
def test_every_label_of_a_scheme_is_its_own_position(scheme: str) -> None:
    made = programs(scheme)
    assert [made.position(label) for label in labels(made)] == list(range(made.count))


@pytest.mark.parametrize("scheme", SCHEMES.values(), ids=SCHEMES)
def test_no_two_programs_of_a_scheme_have_one_address(scheme: str) -> None:
    made = programs(scheme)
    assert len({made.address(at) for at in range(made.count)}) == made.count


@pytest.mark.parametrize("scheme", SCHEMES.values(), ids=SCHEMES)
def test_label_past_the_last_program_of_a_scheme_is_none_of_its_own(scheme: str) -> None:
    made = programs(scheme)
    assert made.position("123456") is None


def test_label_that_the_panel_could_show_past_the_count_is_none() -> None:
    made = programs("count: 11, panel: {banks: A-C, slots: 1-5}")
    assert [made.position(label) for label in ("C1", "C2", "C5")] == [10, None, None]


letters = st.sets(st.sampled_from("ABCDEFGHJKLMNPQRSTUVWXYZ"), min_size=1, max_size=8).map(sorted)


@st.composite
def schemes(draw: st.DrawFn) -> str:
    """A panel of banks and slots, banks on the wire of another size, and some programs remapped."""
    banks = draw(letters)
    slots = draw(st.integers(1, 70))
    count = draw(st.integers(1, len(banks) * slots))
    low = draw(st.integers(0, 3))
    size = draw(st.integers(-(-count // 128), 128))
    select = draw(st.sampled_from(["cc0", "cc32", "both"]))
    when = draw(st.sampled_from(["always", "change"]))
    between = draw(st.sampled_from(["", "-", " "]))
    label = [f"{bank}{between}{slot}" for bank in banks for slot in range(low, low + slots)][:count]
    ring = draw(st.lists(st.sampled_from(label), unique=True, max_size=6))
    remap = ", ".join(f"{a}: {b}" for a, b in zip(ring, [*ring[1:], *ring[:1]], strict=True))
    panel = f"{{banks: [{', '.join(banks)}], slots: {low}-{low + slots - 1}, between: '{between}'}}"
    wire = f"bank: {select}, bank-when: {when}, bank-size: {size}"
    return f"count: {count}, panel: {panel}, {wire}, remap: {{{remap}}}"


@settings(max_examples=60)
@given(schemes())
def test_any_panel_over_any_banks_is_the_identity_from_label_to_wire_and_back(scheme: str) -> None:
    made = programs(scheme)
    addresses = [made.address(at) for at in range(made.count)]
    assert [made.called(address) for address in addresses if address is not None] == list(range(made.count))


# `remap: {5: 12}`: program 5 calls 12. Nothing says that 12 calls another, so 12 is called by both.
def test_program_that_is_remapped_away_is_called_by_none() -> None:
    made = programs("count: 16, first: 1, remap: {5: 12}")
    assert made.address(4) is None


def test_program_that_still_calls_itself_is_sent_as_itself() -> None:
    made = programs("count: 16, first: 1, remap: {5: 12}")
    assert made.address(11) == Address(None, WireProgram(11))


def test_address_that_is_remapped_calls_where_the_remap_says() -> None:
    made = programs("count: 16, first: 1, remap: {5: 12}")
    assert (made.called(Address(None, WireProgram(4))), made.called(Address(None, WireProgram(11)))) == (
        11,
        11,
    )


def test_program_reached_only_through_the_remap_is_sent_as_the_program_that_calls_it() -> None:
    made = programs("count: 16, first: 1, remap: {5: 12, 12: 16}")
    assert made.address(11) == Address(None, WireProgram(4))


def test_remap_on_banks_goes_by_the_panel() -> None:
    made = programs(
        "count: 420, panel: {banks: A-G, slots: 1-60}, bank: cc0, bank-when: always, "
        "remap: {A1: G60, G60: A1}"
    )
    assert (made.address(419), made.address(0)) == (
        Address(WireBank(0), WireProgram(0)),
        Address(WireBank(3), WireProgram(35)),
    )


@pytest.mark.parametrize(
    "label", ["0", "17", "-1", "1.0", "+1", "", "A1", " 1", "1 ", "99999999999", "\u00b2"]
)
def test_text_that_the_panel_never_shows_has_no_position(label: str) -> None:
    assert programs("count: 16, first: 1").position(label) is None


@pytest.mark.parametrize("label", ["", "A", "1", "A0", "A01", "A61", "H1", "a1", "A1 ", "A-1", "AA1", "G601"])
def test_text_that_is_no_bank_and_slot_has_no_position(label: str) -> None:
    made = programs("count: 420, panel: {banks: A-G, slots: 1-60}, bank: cc0, bank-when: always")
    assert made.position(label) is None


def test_address_past_the_last_program_calls_none() -> None:
    made = programs("count: 420, panel: {banks: A-G, slots: 1-60}, bank: cc0, bank-when: always")
    assert made.called(Address(WireBank(3), WireProgram(36))) is None


def test_address_past_the_end_of_a_short_bank_calls_none() -> None:
    made = programs("count: 200, first: 1, bank: cc0, bank-when: always, bank-size: 100")
    assert made.called(Address(WireBank(0), WireProgram(100))) is None


# A1 to A60 are positions 0 to 59, G60 is 6 * 60 + 59 = 419 = 3 * 128 + 35.
@pytest.mark.parametrize(
    ("label", "bank", "program"), [("A1", 0, 0), ("B1", 0, 60), ("C8", 0, 127), ("C9", 1, 0), ("G60", 3, 35)]
)
def test_panel_of_sixties_runs_across_banks_of_128(label: str, bank: int, program: int) -> None:
    made = programs("count: 420, panel: {banks: A-G, slots: 1-60}, bank: both, bank-when: always")
    position = made.position(label)
    assert position is not None
    assert made.address(position) == Address(WireBank(bank), WireProgram(program))


# 01-4 is the fourth program, 32-1 the 125th: 31 * 4 + 1.
@pytest.mark.parametrize(("label", "program"), [("01-1", 0), ("01-4", 3), ("02-1", 4), ("32-1", 124)])
def test_digits_and_a_dash_are_counted_from_the_first(label: str, program: int) -> None:
    assert programs("count: 128, panel: {banks: 01-32, slots: 1-4, between: '-'}").position(label) == program


@pytest.mark.parametrize(
    ("label", "position"), [("U1", 0), ("U3", 2), ("U100", 99), ("P1", 100), ("P100", 199)]
)
def test_banks_of_a_list_stand_in_its_order(label: str, position: int) -> None:
    made = programs(
        "count: 200, panel: {banks: [U, P], slots: 1-100}, bank: cc0, bank-when: always, bank-size: 100"
    )
    assert made.position(label) == position


@pytest.mark.parametrize(("when", "always"), [("always", True), ("change", False)])
def test_bank_select_goes_before_every_program_or_only_where_the_bank_changes(
    when: str, always: bool
) -> None:
    assert programs(f"count: 420, first: 1, bank: cc0, bank-when: {when}").bank_always is always
