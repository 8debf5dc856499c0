"""What the songs mean differently: controls, scenes, visits, and the words around them."""

from __future__ import annotations

from switchmatrix.compare.diff import diff
from switchmatrix.emit.diff_text import diff_text
from tests.cli.kit import TWO_LEGS
from tests.compare.kit import A_RIG, LANTERN, side, text

HEAD = "OLD, now NEW\n\nThe songs\n  tour\n    lantern\n"


def test_a_control_is_said_as_it_was_and_is_with_its_line_on_both_sides() -> None:
    new = {"lantern.yaml": LANTERN.replace("like: verse", "like: verse, echo.mix: 50 %")}
    assert text({}, new) == HEAD + (
        "      chorus\n"
        "        echo.mix was 35 %, as cliff stores it (rigs/a-rig.yaml:12), now 50 % (lantern.yaml:5)\n"
    )


def test_scenes_of_which_the_same_is_said_stand_together() -> None:
    new = {"lantern.yaml": LANTERN.replace("gate: tight", "gate: loose")}
    assert text({}, new) == HEAD + (
        "      verse, chorus\n"
        "        gate-1.threshold was -38 dB (lantern.yaml:4), now -55 dB (lantern.yaml:4)\n"
    )


def test_a_value_of_another_line_is_no_difference() -> None:
    outright = LANTERN.replace("echo: cliff", "echo: {patch: cliff, engage: on, mix: 35 %}")
    assert text({}, {"lantern.yaml": f"# one line further down\n{outright}"}) == "nothing differs\n"


def test_a_value_that_comes_to_the_same_code_is_no_difference() -> None:
    old = {"lantern.yaml": LANTERN.replace("gate: tight", "gate-1.threshold: -38 dB")}
    new = {"lantern.yaml": LANTERN.replace("gate: tight", "gate-1.threshold: -38.1 dB")}
    assert text(old, new) == "nothing differs\n"


def test_a_patch_is_said_by_its_name() -> None:
    new = {"lantern.yaml": LANTERN.replace("echo: cliff", "echo: slap")}
    assert text({}, new) == HEAD + (
        "      chorus\n"
        "        echo.patch was cliff (lantern.yaml:5), now slap (lantern.yaml:5)\n"
        "        echo.mix was 35 %, as cliff stores it (rigs/a-rig.yaml:12), now as slap stores it"
        " (lantern.yaml:5)\n"
        "        echo.time was 480 ms, as cliff stores it (rigs/a-rig.yaml:12), now as slap stores it"
        " (lantern.yaml:5)\n"
    )


def test_a_scene_that_is_new_and_one_that_is_gone_say_where() -> None:
    new = "song: Lantern\ntempo: 120\nscenes:\n  verse: {at: bar 1, gate: tight}\n"
    new += "  bridge: {at: bar 17, gate: loose, echo: slap}\n"
    assert text({}, {"lantern.yaml": new}) == HEAD + (
        "      bridge is new; it comes at bar 17\n      chorus is gone; it came at bar 9\n"
    )


def test_a_scene_that_comes_elsewhere_says_where_it_came() -> None:
    new = {"lantern.yaml": LANTERN.replace("at: bar 9", "at: [bar 11, bar 19]")}
    assert text({}, new) == HEAD + "      chorus comes at bar 11 and bar 19; it came at bar 9\n"


def test_without_places_the_whole_order_is_said() -> None:
    old = "song: Lantern\nscenes:\n  verse: {gate: tight}\n  chorus: {echo: cliff}\n"
    new = "song: Lantern\norder: [chorus, verse, chorus]\nscenes:\n  verse: {gate: tight}\n"
    new += "  chorus: {echo: cliff}\n"
    assert text({"lantern.yaml": old}, {"lantern.yaml": new}) == HEAD + (
        "      running order was verse, chorus, now chorus, verse, chorus\n"
    )


def test_a_remark_an_instrument_and_what_fires_are_differences_of_a_scene() -> None:
    bell = A_RIG.replace(
        "vocabulary:",
        "  bell: {port: rack, channel: 5, definition: bell-box}\n"
        "instruments: {mandola: {tuning: C G D A}}\nvocabulary:",
    )
    more = {"rigs/a-rig.yaml": bell, "definitions/bell-box.yaml": BELL_BOX}
    new = LANTERN.replace("like: verse", "like: verse, instrument: mandola, bell.strike: now, remark: softly")
    assert text(more, {**more, "lantern.yaml": new}) == HEAD + (
        "      chorus\n"
        "        remark is new: softly (lantern.yaml:5)\n"
        "        instrument is new: mandola (lantern.yaml:5)\n"
        "        fires is new: bell.strike (lantern.yaml:5)\n"
    )


BELL_BOX = "definition: bell box\ncontrols:\n  strike: {kind: trigger, cc: 60}\n"


def test_what_a_song_says_of_itself_is_a_difference() -> None:
    new = {"lantern.yaml": LANTERN.replace("tempo: 120", "tempo: 96\nremark: no click").replace("Lan", "Lam")}
    assert text({}, new) == HEAD + (
        "      title was Lantern (lantern.yaml:1), now Lamtern (lantern.yaml:1)\n"
        "      remark is new: no click (lantern.yaml:1)\n"
        "      tempo was 120 (lantern.yaml:2), now 96 (lantern.yaml:2)\n"
    )


def test_a_visit_at_another_tempo_is_said_by_its_number() -> None:
    slower = TWO_LEGS["harbour.yaml"].replace("bpm: 100", "bpm: 90")
    found = diff(side(TWO_LEGS, "winter"), side({**TWO_LEGS, "harbour.yaml": slower}, "winter"))
    assert diff_text(found, "OLD", "NEW") == (
        "OLD, now NEW\n\nThe songs\n  winter\n    harbour\n"
        "      tempo was 120 from bar 1, 100 from bar 9 (harbour.yaml:2), now 120 from bar 1, 90 from bar 9"
        " (harbour.yaml:2)\n"
        "      swell (visit 2)\n"
        "        echo.time was 300 ms (harbour.yaml:4), now asked 333.333 ms, gets 330 ms (harbour.yaml:4)\n"
    )


def test_rigs_on_which_it_is_not_the_same_are_told_apart() -> None:
    b_only = {"rigs/b-rig.yaml": TWO_LEGS["rigs/b-rig.yaml"].replace("echo: off, gate", "echo: slap, gate")}
    assert text(TWO_LEGS, {**TWO_LEGS, **b_only}) == (
        "OLD, now NEW\n\nThe songs\n  summer\n    standing scenes\n      on b-rig\n        changeover\n"
        "          echo.engage was off (rigs/b-rig.yaml:18), now on (rigs/b-rig.yaml:18)\n"
    )


def test_the_show_says_its_own_differences() -> None:
    said = "show: Tidewrack\nland: on time\nbudget: 80 ms\nrigs: [a-rig]\n"
    said += "legs:\n  tour: {rigs: [a-rig], setlist: [lantern]}\n"
    assert text({}, {"show.yaml": said}) == (
        "OLD, now NEW\n\nThe show\n  land was as sent, now on time\n  budget is new: 80 ms (show.yaml:3)\n"
    )


def test_a_show_that_is_no_longer_asked_after_a_fault_says_so() -> None:
    said = "show: Tidewrack\nask-after-fault: no\nrigs: [a-rig]\n"
    said += "legs:\n  tour: {rigs: [a-rig], setlist: [lantern]}\n"
    assert text({}, {"show.yaml": said}) == ("OLD, now NEW\n\nThe show\n  ask-after-fault was yes, now no\n")
