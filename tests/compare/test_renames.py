"""A song, scene, device or patch under another name is found by its content; what is not alike is not."""

from __future__ import annotations

from switchmatrix.compare.diff import diff
from switchmatrix.compare.records import Names
from switchmatrix.emit.diff_text import diff_text
from tests.compare.kit import A_RIG, ECHO, LANTERN, Files, between, of, renamed, rig_changes, said, text
from tests.support import BASE_SHOW, judged

GATE = (BASE_SHOW / "definitions" / "plain-gate.yaml").read_text(encoding="utf-8")


def whole(song: str, lantern: str = LANTERN, more: Files | None = None) -> Files:
    """The base show with its one song in a file of any name, and nothing beside."""
    legs = f"legs:\n  tour: {{rigs: [a-rig], setlist: [{song}]}}\n"
    return {
        "show.yaml": f"show: Tidewrack\nrigs: [a-rig]\n{legs}",
        f"{song}.yaml": lantern,
        "rigs/a-rig.yaml": A_RIG,
        "definitions/two-tap-echo.yaml": ECHO,
        "definitions/plain-gate.yaml": GATE,
        **(more or {}),
    }


def of_files(old: Files, new: Files) -> str:
    """What differs between two whole shows, as text."""
    return diff_text(diff(of(judged(old, base=None)), of(judged(new, base=None))), "OLD", "NEW")


HEAD = "OLD, now NEW\n\nThe songs\n  tour\n"


def test_a_song_in_a_file_of_another_name_is_the_same_song() -> None:
    assert of_files(whole("lantern"), whole("lamp")) == f"{HEAD}    lantern, now called lamp\n"


def test_a_song_that_changed_a_little_with_its_name_is_the_same_song() -> None:
    said = of_files(whole("lantern"), whole("lamp", LANTERN.replace("cliff", "slap")))
    assert said.splitlines()[4] == "    lantern, now called lamp"


def test_a_song_of_other_scenes_is_another_song() -> None:
    ebb = "song: Ebb\nscenes:\n  low: {echo: {engage: on, time: 200 ms}}\n"
    assert of_files(whole("lantern"), whole("ebb", ebb)) == (
        f"{HEAD}    setlist\n      ebb is new, number 1\n      lantern is gone; it was number 1\n"
        "    ebb is new on this leg\n    lantern is gone from this leg\n"
    )


def test_a_song_that_is_still_there_has_not_been_renamed() -> None:
    copied = whole("lamp", more={"lantern.yaml": LANTERN})
    assert "now called" not in of_files(whole("lantern"), copied)


def test_a_scene_under_another_name_is_the_same_scene() -> None:
    found = between({}, {"lantern.yaml": LANTERN.replace("chorus", "refrain")})
    assert renamed(found) == [Names("chorus", "refrain")]
    assert [(s.fields, s.controls) for leg in found.legs for s in leg.rigs[0].songs[0].scenes] == [((), ())]


def test_a_scene_that_changed_a_little_with_its_name_says_both() -> None:
    new = LANTERN.replace("chorus", "refrain").replace("echo: cliff", "echo: cliff, echo.mix: 50 %")
    assert text({}, {"lantern.yaml": new}) == (
        f"{HEAD}    lantern\n      chorus, now called refrain\n"
        "        echo.mix was 35 %, as cliff stores it (rigs/a-rig.yaml:12), now 50 % (lantern.yaml:5)\n"
    )


def test_a_scene_of_other_content_is_another_scene() -> None:
    new = "song: Lantern\ntempo: 120\nscenes:\n  verse: {at: bar 1, gate: tight}\n"
    new += "  bridge: {at: bar 17, gate: loose, echo: slap}\n"
    assert renamed(between({}, {"lantern.yaml": new})) == [Names(None, "bridge"), Names("chorus", None)]


def test_scenes_that_swap_names_are_not_renamed_but_changed() -> None:
    swapped = LANTERN.replace("verse", "x").replace("chorus", "verse").replace("x", "chorus")
    assert renamed(between({}, {"lantern.yaml": swapped})) == []


def test_a_device_under_another_name_is_the_same_device() -> None:
    rig = A_RIG.replace("echo", "delay").replace("two-tap-delay", "two-tap-echo")
    new = {"rigs/a-rig.yaml": rig, "lantern.yaml": LANTERN.replace("echo", "delay")}
    assert text({}, new) == (
        "OLD, now NEW\n\nThe rigs\n  a-rig\n"
        "    delay: name was echo (rigs/a-rig.yaml:6), now delay (rigs/a-rig.yaml:6)\n"
        "      alters no message\n"
    )


def test_a_device_under_another_name_on_another_channel_says_both() -> None:
    rig = (
        A_RIG.replace("echo", "delay")
        .replace("two-tap-delay", "two-tap-echo")
        .replace("channel: 3", "channel: 8")
    )
    new = {"rigs/a-rig.yaml": rig, "lantern.yaml": LANTERN.replace("echo", "delay")}
    assert [said(change) for change in rig_changes({}, new)] == [
        ("channel", "delay", "3", "8"),
        ("name", "delay", "echo", "delay"),
    ]


def test_another_model_in_its_place_is_another_device() -> None:
    rig = A_RIG.replace("gate-1", "noise-1").replace("plain-gate", "other-gate")
    new = {
        "rigs/a-rig.yaml": rig,
        "definitions/other-gate.yaml": GATE.replace("plain gate", "other gate"),
    }
    assert [said(change) for change in rig_changes({}, new)][:2] == [
        ("device", "gate-1", "plain gate on rack, channel 2", None),
        ("device", "noise-1", None, "other gate on rack, channel 2"),
    ]


def test_a_patch_of_the_same_number_under_another_name_is_the_same_patch() -> None:
    new = {
        "rigs/a-rig.yaml": A_RIG.replace("cliff", "crag"),
        "lantern.yaml": LANTERN.replace("cliff", "crag"),
    }
    assert [said(change) for change in rig_changes({}, new)] == [("patch name", "echo crag", "cliff", "crag")]
    assert between({}, new).legs == ()


def test_a_patch_that_stores_the_same_elsewhere_under_another_name_is_the_same_patch() -> None:
    new = {
        "rigs/a-rig.yaml": A_RIG.replace("cliff: {at: 17", "crag: {at: 30"),
        "lantern.yaml": LANTERN.replace("cliff", "crag"),
    }
    assert [said(change) for change in rig_changes({}, new)] == [
        ("patch number", "echo crag", "17", "30"),
        ("patch name", "echo crag", "cliff", "crag"),
    ]


def test_a_patch_of_the_same_number_that_stores_something_else_is_another_patch() -> None:
    new = {
        "rigs/a-rig.yaml": A_RIG.replace(
            "cliff: {at: 17, stores: {mix: 35 %", "gong: {at: 17, stores: {mix: 90 %"
        ),
        "lantern.yaml": LANTERN.replace("cliff", "gong"),
    }
    assert [said(change) for change in rig_changes({}, new)] == [
        ("patch", "echo cliff", "17: mix 35 %, time 480 ms", None),
        ("patch", "echo gong", None, "17: mix 90 %, time 480 ms"),
    ]
