"""Switches that can only be flipped: pressed from a known position, and only where they stand wrong."""

from __future__ import annotations

from pathlib import Path

import pytest

from switchmatrix.pipeline import Judged
from tests.cli.kit import run
from tests.compile.rigs import files_of, rig_show
from tests.compile.shown import visits, wire
from tests.support import findings, names

FUZZ = "fuzz: {port: rack, channel: 3, definition: fuzz-box}"
PLAIN = "kind: switch, cc: 80, main: yes, toggle: {press: 127, release: 0}, powers-up: off"
ON_OFF = "  verse: {fuzz: on}\n  chorus: {fuzz: off}\n"


def fuzz(engage: str, scenes: str = ON_OFF, device: str = FUZZ, extra: str = "", more: str = "") -> Judged:
    """A box with the switch `engage` (what stands in its braces) and `more` of its definition."""
    return rig_show(device, {"fuzz-box": f"controls:\n  engage: {{{engage}}}\n{more}"}, scenes, extra)


def test_a_toggle_that_powers_up_off_is_pressed_and_let_go_for_a_scene_that_wants_it_on() -> None:
    assert wire(fuzz(PLAIN), "verse") == ["fuzz B2 50 7F", "fuzz B2 50 00"]


def test_a_toggle_is_not_pressed_where_it_powers_up_right() -> None:
    assert wire(fuzz(PLAIN), "chorus") == []


def test_a_toggle_is_pressed_alike_whichever_way_it_goes() -> None:
    assert wire(fuzz(PLAIN), "chorus", after="verse") == ["fuzz B2 50 7F", "fuzz B2 50 00"]
    assert wire(fuzz(PLAIN), "verse", after="chorus") == ["fuzz B2 50 7F", "fuzz B2 50 00"]


def test_a_toggle_is_never_pressed_where_the_scene_before_left_it_right() -> None:
    assert wire(fuzz(PLAIN, ON_OFF + "  coda: {fuzz: on}\n"), "coda", after="verse") == []


def test_a_toggle_without_release_is_pressed_alone() -> None:
    engage = "kind: switch, cc: 80, main: yes, toggle: {press: 1, release: none}, powers-up: off"
    assert wire(fuzz(engage), "verse") == ["fuzz B2 50 01"]


def test_a_toggle_on_a_parameter_number_is_pressed_and_let_go_with_the_number_each_time() -> None:
    engage = (
        "kind: switch, nrpn: [1, 8], data: 7, main: yes, toggle: {press: 127, release: 0}, powers-up: off"
    )
    assert wire(fuzz(engage), "verse") == [
        *("fuzz B2 63 01", "fuzz B2 62 08", "fuzz B2 06 7F"),
        *("fuzz B2 63 01", "fuzz B2 62 08", "fuzz B2 06 00"),
    ]


def test_a_toggle_on_a_pair_is_pressed_with_both_halves_though_its_position_is_known() -> None:
    engage = "kind: switch, cc14: [12, 44], main: yes, toggle: {press: 300, release: none}, powers-up: off"
    assert wire(fuzz(engage), "chorus", after="verse") == ["fuzz B2 0C 02", "fuzz B2 2C 2C"]


def test_a_device_says_itself_how_it_powers_up() -> None:
    device = "fuzz: {port: rack, channel: 3, definition: fuzz-box, powers-up: {engage: on}}"
    assert wire(fuzz(PLAIN, device=device), "verse") == []
    assert wire(fuzz(PLAIN, device=device), "chorus") == ["fuzz B2 50 7F", "fuzz B2 50 00"]


def test_a_toggle_without_powers_up_is_reachable_from_nowhere() -> None:
    assert findings(fuzz(PLAIN.replace(", powers-up: off", ""))) == [
        "lantern.yaml:3:11: error toggle-unsure: `fuzz.engage` can only be flipped, and nobody knows how it "
        "stands: it is not said how it stands after power-up"
    ]


def test_a_device_that_says_how_it_powers_up_mends_a_definition_that_does_not() -> None:
    device = "fuzz: {port: rack, channel: 3, definition: fuzz-box, powers-up: {engage: off}}"
    assert wire(fuzz(PLAIN.replace(", powers-up: off", ""), device=device), "verse") == [
        "fuzz B2 50 7F",
        "fuzz B2 50 00",
    ]


def test_how_a_toggle_powers_up_counts_before_the_first_transition_only() -> None:
    more = "  mix: {kind: level, cc: 21, range: [0, 127]}"
    scenes = "  verse: {fuzz.mix: 1}\n  chorus: {fuzz.mix: 1, fuzz.engage: on}\n"
    assert names(fuzz(PLAIN, scenes, more=more)) == [
        "toggle-unsure lantern.yaml:4",
        "undetermined rigs/a-rig.yaml:4",
    ]


def test_each_visit_knows_the_toggle_from_the_visit_before() -> None:
    scenes = """
  verse: {at: [bar 1, bar 9, bar 17], fuzz: on}
  chorus: {at: [bar 5, bar 13], fuzz: off}
tempo: 120
"""
    press = ["fuzz B2 50 7F", "fuzz B2 50 00"]
    assert visits(fuzz(PLAIN, scenes)) == [press] * 5


@pytest.mark.parametrize(
    "powers_up", [", powers-up: off", ""], ids=["known at power-up", "unknown at power-up"]
)
@pytest.mark.parametrize("stored", ["", ", stored: yes"], ids=["of its own", "stored and listed"])
def test_no_scene_sets_a_toggle_that_the_player_holds(powers_up: str, stored: str) -> None:
    device = "fuzz: {port: rack, channel: 3, definition: fuzz-box, patches: {dirt: 1}}"
    if stored:
        device = device.replace("dirt: 1", "dirt: {at: 1, stores: {engage: on}}")
    engage = PLAIN.replace(", powers-up: off", powers_up) + stored
    more = "programs: {count: 8, first: 1, repeat: recalls}"
    scenes = "  verse: {fuzz: {patch: dirt, engage: on}}\n  chorus: {fuzz.patch: dirt}\n"
    assert findings(fuzz(engage, scenes, device, "hands: [fuzz.engage]", more)) == [
        "lantern.yaml:3:31: error toggle-unsure: `fuzz.engage` can only be flipped, and nobody knows how it "
        "stands: the player moves it too"
    ]


def test_a_toggle_that_the_player_holds_and_no_scene_names_is_left_alone() -> None:
    show = fuzz(PLAIN, "  verse: {}\n", extra="hands: [fuzz.engage]\nhome: {fuzz: on}")
    assert names(show) == []
    assert wire(show, "verse") == []


def stored(stores: str, scenes: str, extra: str = "", repeat: str = "recalls", more: str = "") -> Judged:
    """A box whose patch 1 stores its toggle, at a place that is listed where `stores` says so."""
    patches = f"{{dirt: {{at: 1, stores: {{{stores}}}}}, clean: {{at: 2, stores: {{{stores}}}}}}}"
    device = f"fuzz: {{port: rack, channel: 3, definition: fuzz-box, patches: {patches}}}"
    engage = PLAIN.replace(", powers-up: off", "") + ", stored: yes"
    return fuzz(engage, scenes, device, extra, f"{more}programs: {{count: 8, first: 1, repeat: {repeat}}}")


def test_a_recall_brings_a_toggle_to_where_the_patch_is_said_to_store_it() -> None:
    show = stored("engage: on", "  verse: {fuzz: {patch: dirt, engage: on}}\n")
    assert wire(show, "verse") == ["fuzz C2 00"]


def test_a_toggle_is_flipped_after_the_recall_that_brings_it_where_the_scene_does_not_want_it() -> None:
    show = stored("engage: on", "  verse: {fuzz: {patch: dirt, engage: off}}\n")
    assert wire(show, "verse") == ["fuzz C2 00", "fuzz B2 50 7F", "fuzz B2 50 00"]


def test_a_toggle_that_a_controller_can_reach_is_brought_back_by_its_patch_called_again() -> None:
    extra = "controllers: {floor: {port: rack, channel: 3, sends: {cc: [80]}}}"
    show = stored(
        "engage: on", "  verse: {fuzz: {patch: dirt, engage: off}}\n  chorus: {like: verse}\n", extra
    )
    assert wire(show, "chorus", after="verse") == ["fuzz C2 00", "fuzz B2 50 7F", "fuzz B2 50 00"]


def test_a_recall_does_not_bring_a_toggle_whose_place_in_the_patch_nobody_has_said() -> None:
    show = stored("", "  verse: {fuzz: {patch: dirt, engage: on}}\n")
    assert names(show) == ["toggle-unsure lantern.yaml:3"]


def test_a_toggle_may_be_left_to_a_patch_that_does_not_list_it() -> None:
    show = stored("", "  verse: {fuzz.patch: dirt}\n  chorus: {fuzz.patch: clean}\n")
    assert names(show) == []
    assert wire(show, "verse", after="chorus") == ["fuzz C2 00"]


def test_a_box_that_may_not_recall_its_program_leaves_a_listed_toggle_unsure() -> None:
    show = stored("engage: on", "  verse: {fuzz: {patch: dirt, engage: on}}\n", repeat="nothing")
    assert names(show) == ["toggle-unsure lantern.yaml:3"]


def test_a_toggle_that_a_repeated_program_may_flip_is_unsure() -> None:
    more = "programs: {count: 8, first: 1, repeat: toggles engage}"
    device = "fuzz: {port: rack, channel: 3, definition: fuzz-box, patches: {dirt: 1, clean: 2}}"
    scenes = "  verse: {fuzz: {patch: dirt, engage: on}}\n  chorus: {fuzz: {patch: clean, engage: on}}\n"
    show = fuzz(PLAIN, scenes, device, more=more)
    assert findings(show) == [
        "lantern.yaml:3:31: error toggle-unsure: `fuzz.engage` can only be flipped, and nobody knows how it "
        "stands: something that is not the tool's may have moved it"
    ]


@pytest.mark.parametrize("reaches", ["cc: [80]", "cc: [79-81]", "cc: [20]"])
def test_a_toggle_that_a_controller_can_reach_is_unsure(reaches: str) -> None:
    extra = f"controllers: {{floor: {{port: rack, channel: 3, sends: {{{reaches}}}}}}}"
    show = fuzz(PLAIN + ", also-cc: [20]", extra=extra)
    assert names(show) == ["toggle-unsure lantern.yaml:3", "controller-reaches rigs/a-rig.yaml:4"]


def test_a_toggle_that_no_controller_can_reach_is_sure() -> None:
    extra = "controllers: {floor: {port: rack, channel: 4, sends: {programs: yes, cc: [0-119]}}}"
    assert names(fuzz(PLAIN, extra=extra)) == []


def test_a_toggle_that_a_choice_reloads_is_unsure() -> None:
    more = "  mode: {kind: choice, cc: 30, values: {tape: 0, clean: 1}, resets: [engage]}"
    scenes = "  verse: {fuzz: {engage: on, mode: tape}}\n  chorus: {fuzz: {engage: on, mode: clean}}\n"
    assert names(fuzz(PLAIN, scenes, more=more)) == ["toggle-unsure lantern.yaml:3"]


def test_a_choice_before_the_recall_that_reloads_a_listed_toggle_has_it_fixed_by_the_recall() -> None:
    more = "  mode: {kind: choice, cc: 30, values: {tape: 0, clean: 1}, resets: [engage]}\n"
    scenes = (
        "  verse: {fuzz: {patch: dirt, engage: on, mode: tape}}\n"
        "  chorus: {fuzz: {patch: dirt, engage: on, mode: clean}}\n"
    )
    show = stored("engage: on", scenes, more=more)
    assert wire(show, "chorus", after="verse") == ["fuzz B2 1E 01", "fuzz C2 00"]


BY_HAND = "set by hand before this: fuzz.engage off"


def laid(folder: Path, scenes: str = ON_OFF) -> Path:
    """The show in a folder, with a hand-set toggle."""
    definition = f"controls:\n  engage: {{{PLAIN}}}\n"
    for path, text in files_of(FUZZ, {"fuzz-box": definition}, scenes).items():
        (folder / path).parent.mkdir(parents=True, exist_ok=True)
        (folder / path).write_text(text, encoding="utf-8")
    return folder


def test_messages_says_first_what_to_set_by_hand(tmp_path: Path) -> None:
    assert run("messages", laid(tmp_path), "lantern", "chorus").out == f"{BY_HAND}\nnothing to send\n"


def test_messages_after_a_scene_has_nothing_to_set_by_hand(tmp_path: Path) -> None:
    assert BY_HAND not in run("messages", laid(tmp_path), "lantern", "chorus", "--after", "verse").out


def test_a_listing_says_at_its_head_what_to_set_by_hand(tmp_path: Path) -> None:
    show = laid(tmp_path / "show")
    run("compile", show, "--out", tmp_path / "out")
    listings = sorted((tmp_path / "out").rglob("*lantern*.txt"))
    assert [BY_HAND in path.read_text(encoding="utf-8").splitlines()[:4] for path in listings] == [True]
