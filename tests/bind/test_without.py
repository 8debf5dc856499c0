"""A rig that is like another one without some of its devices: what songs say of them is done without."""

from __future__ import annotations

import pytest

from switchmatrix.pipeline import Judged
from switchmatrix.proof.run import prove
from tests.support import BASE_SHOW, findings, judged, sent, song

A_RIG = (BASE_SHOW / "rigs" / "a-rig.yaml").read_text(encoding="utf-8")
FESTIVAL = "rig: Festival\nlike: a-rig\nwithout: [echo]\n"
GATED = "song: Lantern\nscenes: {verse: {gate: tight}}\n"


def show(festival: str = FESTIVAL, more: str = "", sung: str | None = None, **rigs: str) -> Judged:
    """The base show on its rig, with more sections, on the festival's, and on further ones by id."""
    ids = ", ".join(("a-rig", "festival", *rigs))
    files = {
        "show.yaml": f"show: T\nrigs: [{ids}]\nlegs: {{tour: {{rigs: [{ids}], setlist: [lantern]}}}}\n",
        "rigs/a-rig.yaml": A_RIG + more,
        "rigs/festival.yaml": festival,
        **{f"rigs/{id}.yaml": text for id, text in rigs.items()},
    }
    return judged(files if sung is None else {**files, "lantern.yaml": sung})


def on_festival(scene: str, more: str = "", sung: str | None = None, festival: str = FESTIVAL) -> list[str]:
    """The messages of a scene on the festival's rig."""
    return sent(show(festival, more, sung), "lantern", scene, rig="festival")


GATE_ALONE = ["gate-1 sets threshold to -38 dB B1 14 40"]


def test_a_song_that_names_a_device_left_out_stays_as_it_is() -> None:
    assert findings(show()) == []


def test_nothing_is_sent_to_a_device_left_out() -> None:
    assert on_festival("chorus") == GATE_ALONE


def test_the_rig_that_it_is_like_keeps_its_devices() -> None:
    assert sent(show(), "lantern", "chorus", rig="a-rig") == [
        "echo recalls cliff (panel 17) C2 10",
        "gate-1 sets threshold to -38 dB B1 14 40",
        "echo sets engage to on B2 50 7F",
    ]


def test_all_devices_may_be_left_out() -> None:
    festival = "rig: Festival\nlike: a-rig\nwithout: [echo, gate-1]\n"
    assert (findings(show(festival)), on_festival("chorus", festival=festival)) == ([], [])


@pytest.mark.parametrize(
    "more",
    [
        "hands: [echo.mix]\n",
        "hands: [echo]\n",
        "limits: {echo.mix: {most: 60 %}}\n",
        "mutes: [{while: [echo.patch], hold: {gate-1.threshold: -20 dB}}]\n",
        "mutes: [{while: [gate-1.threshold], hold: {echo.engage: off}}]\n",
        "standing: {silence: {echo: off}, wet: {like: silence, echo: cliff}}\n",
        "instruments: {mandola: {pickups: [piezo], sets: {echo: {mix: 30 %}}}}\n",
        "changes: {lantern: {base: {echo.mix: 20 %}, scenes: {chorus: {echo: slap}}}}\n",
    ],
    ids=["hand", "hands", "limit", "covered", "held", "standing", "instrument", "change"],
)
def test_what_else_a_rig_says_of_a_device_left_out_does_not_matter(more: str) -> None:
    heard = show(more=more)
    assert [line for line in findings(heard) if "festival" in line or "a-rig" not in line] == []


def test_a_mute_keeps_what_else_it_covers_and_holds() -> None:
    more = "mutes: [{while: [echo.patch, echo.engage], hold: {gate-1.threshold: -20 dB}, before: 5 ms}]\n"
    run, _ = song(show(more=more), "lantern", rig="a-rig")
    without, _ = song(show(more=more), "lantern", rig="festival")
    assert (len(run.rig.mutes), without.rig.mutes) == (1, ())


def test_a_mute_loses_only_what_is_gone() -> None:
    more = (
        "mutes: [{while: [echo.patch, gate-2.threshold], hold: {gate-1.threshold: -20 dB}, before: 5 ms}]\n"
    )
    rig = A_RIG.replace("  echo:\n", "  gate-2: {port: rack, channel: 9, definition: plain-gate}\n  echo:\n")
    rig = rig.replace("home: {", "home: {gate-2.threshold: -40 dB, ")
    text = {"rigs/a-rig.yaml": rig + more, "rigs/festival.yaml": FESTIVAL}
    legs = "show: T\nrigs: [a-rig, festival]\nlegs: {tour: {rigs: [a-rig, festival], setlist: [lantern]}}\n"
    run, _ = song(judged({**text, "show.yaml": legs}), "lantern", rig="festival")
    mute = run.rig.mutes[0]
    assert ([str(c) for c in mute.covers], [str(t) for t, _ in mute.holds], mute.before_us) == (
        ["gate-2.threshold"],
        ["gate-1.threshold"],
        5000,
    )


def test_a_word_keeps_what_it_brings_to_other_devices() -> None:
    more = A_RIG.replace("-38 dB}", "-38 dB, echo.mix: 20 %}")
    heard = judged(
        {
            "show.yaml": "show: T\nrigs: [festival]\nlegs: {tour: {rigs: [festival], setlist: [lantern]}}\n",
            "rigs/a-rig.yaml": more,
            "rigs/festival.yaml": FESTIVAL,
            "lantern.yaml": GATED,
        }
    )
    assert (findings(heard), sent(heard, "lantern", "verse")) == ([], GATE_ALONE)


def test_an_entry_that_is_a_control_of_it_is_done_without() -> None:
    rig = A_RIG.replace("vocabulary:\n", "vocabulary:\n  wet: echo.mix\n")
    sung = "song: Lantern\nscenes: {verse: {gate: tight, wet: 40 %, echo: on}}\n"
    text = {"rigs/a-rig.yaml": rig, "rigs/festival.yaml": FESTIVAL, "lantern.yaml": sung}
    legs = "show: T\nrigs: [festival]\nlegs: {tour: {rigs: [festival], setlist: [lantern]}}\n"
    heard = judged({**text, "show.yaml": legs})
    assert (findings(heard), sent(heard, "lantern", "verse")) == ([], GATE_ALONE)


def test_a_song_may_leave_its_control_to_the_player() -> None:
    sung = "song: Lantern\nhands: [echo.time]\nscenes: {verse: {gate: tight, echo.time: leave}}\n"
    assert on_festival("verse", sung=sung) == GATE_ALONE


def test_a_note_value_of_it_needs_no_tempo_there() -> None:
    sung = "song: Lantern\nscenes: {verse: {gate: tight, echo: {engage: on, time: 1/8}}}\n"
    heard = findings(show(sung=sung))
    assert [line.rpartition(" (on ")[2] for line in heard] == ["a-rig)"]


def test_the_rigs_own_vocabulary_stands_in_for_a_name() -> None:
    festival = FESTIVAL + "vocabulary: {echo.engage: {on: {gate-1.threshold: -30 dB}, off: nothing}}\n"
    assert on_festival("chorus", festival=festival) == ["gate-1 sets threshold to -30 dB B1 14 50"]


def test_what_the_own_vocabulary_leaves_out_is_done_without() -> None:
    festival = FESTIVAL + "vocabulary: {echo.mix: nothing}\n"
    assert (findings(show(festival)), on_festival("chorus", festival=festival)) == ([], GATE_ALONE)


def test_a_limit_of_its_own_on_a_device_left_out_is_a_mistake() -> None:
    assert findings(show(FESTIVAL + "limits: {echo.mix: {most: 60 %}}\n")) == [
        "rigs/festival.yaml:4:10: error bad-value: `echo` is absent, so nothing of it is sent to limit"
    ]


def test_a_misspelt_device_is_said_where_it_stands() -> None:
    heard = show("rig: Festival\nlike: a-rig\nwithout: [gate-1, ecko]\n")
    assert [(line, found.help) for line, found in ((findings(heard)[0], heard.found[0]),)] == [
        (
            "rigs/festival.yaml:3:19: error unknown-name: "
            "the rig that this one is like has no device `ecko` to leave out",
            "did you mean `echo`?",
        )
    ]


def test_a_device_is_not_both_left_out_and_there() -> None:
    assert findings(show(FESTIVAL + "devices: {echo: {channel: 5}}\n")) == [
        "rigs/festival.yaml:3:11: error bad-name: `echo` is left out, and is among the devices of this rig"
    ]


def test_a_rig_that_is_like_none_leaves_nothing_out() -> None:
    assert findings(show("without: [echo]\n" + A_RIG)) == [
        "rigs/festival.yaml:1:1: error unknown-key: `without` is no key of this block"
    ]


def test_the_schema_wants_a_list() -> None:
    assert [line.split()[2] for line in findings(show(FESTIVAL.replace("[echo]", "echo")))] == [
        "wrong-shape:"
    ]


def test_a_rig_like_it_lacks_the_device_too() -> None:
    heard = show(small="rig: Small\nlike: festival\n")
    assert (findings(heard), sent(heard, "lantern", "chorus", rig="small")) == ([], GATE_ALONE)


def test_a_rig_like_it_may_lack_more() -> None:
    heard = show(small="rig: Small\nlike: festival\nwithout: [gate-1]\n")
    assert (findings(heard), sent(heard, "lantern", "chorus", rig="small")) == ([], [])


def test_what_is_gone_cannot_be_left_out_again() -> None:
    assert findings(show(small="rig: Small\nlike: festival\nwithout: [echo]\n")) == [
        (
            "rigs/small.yaml:3:11: error unknown-name: the rig that this one is like "
            "has no device `echo` to leave out"
        )
    ]


AGAIN = """\
rig: Back
like: festival
devices: {echo: {port: rack, channel: 3, definition: two-tap-echo, patches: {slap: 4, cliff: 17}}}
"""


def test_a_rig_like_it_may_have_the_device_again() -> None:
    heard = show(back=AGAIN)
    assert (findings(heard), sent(heard, "lantern", "chorus", rig="back")) == (
        [],
        [
            "echo recalls cliff (panel 17) C2 10",
            "gate-1 sets threshold to -38 dB B1 14 40",
            "echo sets engage to on B2 50 7F",
        ],
    )


SPARE = """\
rig: Spare
ports: {rack: {out: rack, speed: din}}
devices:
  gate-1: {port: rack, channel: 2, definition: plain-gate}
  multi: {port: rack, channel: 3, definition: two-tap-echo, patches: {dry: 1, dark: 2, wide: 3}}
absent: {echo: two-tap-echo, hall: two-tap-echo}
vocabulary:
  gate: {tight: {gate-1.threshold: -38 dB}, loose: {gate-1.threshold: -55 dB}}
  echo.engage: multi.engage
  echo.mix: multi.mix
  echo.patch: {slap: {multi.patch: dry}, cliff: {multi.patch: dark, gate-1.threshold: -30 dB}}
  hall.engage: nothing
  hall.patch: {room: {multi.patch: wide}}
joint: [{of: [echo.patch, hall.patch], rows: [[cliff, room, {multi.patch: wide, gate-1.threshold: -31 dB}]]}]
home: {gate: loose, multi: {engage: off, patch: dry}}
"""


def spare(rig: str, sung: str) -> list[str]:
    """The messages of a verse on a rig that is like the spare."""
    heard = judged(
        {
            "show.yaml": "show: T\nrigs: [rig]\nlegs: {tour: {rigs: [rig], setlist: [lantern]}}\n",
            "rigs/spare.yaml": SPARE,
            "rigs/rig.yaml": rig,
            "lantern.yaml": f"song: Lantern\nscenes: {{verse: {{{sung}}}}}\n",
        }
    )
    assert findings(heard) == []
    return sent(heard, "lantern", "verse")


SPARELESS = "rig: R\nlike: spare\nwithout: [multi]\n"


def test_what_a_device_left_out_stood_in_for_is_done_without_too() -> None:
    assert spare(SPARELESS, "gate: tight, echo: {engage: on, mix: 40 %}") == GATE_ALONE


def test_a_table_keeps_what_it_brings_to_devices_that_are_there() -> None:
    assert spare(SPARELESS, "gate: tight, echo: cliff") == ["gate-1 sets threshold to -30 dB B1 14 50"]


def test_so_does_a_joint_table() -> None:
    assert spare(SPARELESS, "gate: tight, echo: cliff, hall: room") == [
        "gate-1 sets threshold to -31 dB B1 14 4E"
    ]


def test_a_device_that_was_absent_is_there_and_nothing_stands_in_for_it() -> None:
    rig = (
        "rig: R\nlike: spare\ndevices: {echo: {port: rack, channel: 5, definition: "
        "two-tap-echo, patches: {cliff: 17}}}\n"
    )
    rig += "home: {echo: {engage: off, patch: cliff}}\n"
    assert [line for line in spare(rig, "gate: tight, echo: cliff") if line.startswith("echo")] == [
        "echo recalls cliff (panel 17) C4 10",
        "echo sets engage to on B4 50 7F",
    ]


def test_a_trigger_of_it_is_not_struck() -> None:
    rig = A_RIG.replace("  echo:\n", "  bells: {port: rack, channel: 9, definition: box}\n  echo:\n")
    heard = judged(
        {
            "show.yaml": "show: T\nrigs: [festival]\nlegs: {tour: {rigs: [festival], setlist: [lantern]}}\n",
            "definitions/box.yaml": "definition: box\ncontrols: {bell: {kind: trigger, note: 60}}\n",
            "rigs/a-rig.yaml": rig.replace("vocabulary:\n", "vocabulary:\n  knell: bells.bell\n"),
            "rigs/festival.yaml": FESTIVAL.replace("[echo]", "[bells, echo]"),
            "lantern.yaml": "song: Lantern\nscenes: {verse: {gate: tight, knell: now, bells.bell: now}}\n",
        }
    )
    _, states = song(heard, "lantern")
    assert (findings(heard), states.visits[0].triggers) == ([], ())


def test_every_pair_of_its_states_is_proved() -> None:
    runs = show(more="standing: {silence: {echo: off, gate: loose}}\n").worked_out.runs
    proofs = {run.rig.id: prove(run) for run in runs}
    assert {id: (proof.states, proof.failed) for id, proof in proofs.items()} == {
        "a-rig": (3, ()),
        "festival": (2, ()),
    }
