"""Whatever was heard and moved before, the messages of a scene bring every box to what the scene means."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from random import Random

from hypothesis import assume, event, given, note, settings
from hypothesis import strategies as st

from switchmatrix.pipeline import Judged
from tests.compile.drawn import FLIPPED, SWITCH, shows
from tests.compile.receiver import Sent, found_stage, wrong_after
from tests.compile.shown import on_the_wire
from tests.compile.shows import Control, Device, Mute, Patch, Show
from tests.support import judged


def features(show: Show) -> list[str]:
    """What is in the show that makes it hard."""
    controls = [c for device in show.devices for c in device.controls]
    has = {
        "banks": any(device.bank for device in show.devices),
        "a gap": any(device.gap_ms for device in show.devices),
        "a shared channel": len({(d.port, d.channel) for d in show.devices}) < len(show.devices),
        "a pair": any(c.lsb for c in controls),
        "a parameter number": any(c.nrpn for c in controls),
        "a toggle": any(c.flips for c in controls),
        "resets": any(c.resets for c in controls),
        "mutes": bool(show.mutes),
    }
    return [feature for feature, there in has.items() if there]


@settings(max_examples=200)
@given(shows(), st.integers(0, 2**32), st.lists(st.integers(0, 3), min_size=1, max_size=6))
def test_after_any_walk_of_scenes_every_box_stands_as_the_scene_means(
    show: Show, seed: int, walk: list[int]
) -> None:
    note("\n".join(f"== {path}\n{text}" for path, text in show.files().items()))
    compiled = judged(show.files(), base=None)
    event("sound" if compiled.sound else "has an error")
    assume(compiled.sound)
    for feature in features(show):
        event(feature)
    stage = found_stage(show, Random(seed))
    before: str | None = None
    for step in walk:
        label = show.scenes[step % len(show.scenes)][0]
        note(f"to {label} from {before or 'unknown'}")
        stage.meddle()
        assert wrong_after(stage, label, on_the_wire(compiled, label, before)) == []
        before = label


MODES = (("tape", 0), ("grain", 1))
HALL = Device(
    "hall",
    "rack",
    1,
    8,
    1,
    10,
    "recalls",
    (
        Control("mix", "level", 51, (), stored=False, lsb=55),
        Control("depth", "level", None, (), stored=False, nrpn=(1, 8)),
        Control("mode", "choice", 52, MODES, stored=False, resets=("mix",)),
        Control("engage", "switch", 50, FLIPPED, stored=False, flips=True, powers_up="off"),
        Control("relay", "choice", None, (("left", 5), ("right", 6)), stored=False, bank=1),
    ),
    (Patch("near", 1, ()), Patch("far", 6, ())),
    bank="both",
    bank_size=4,
    gap_ms=1,
)
MIXER = Device(
    "mixer", "rack", 2, 0, 0, 0, "recalls", (Control("mute-all", "switch", 90, SWITCH, stored=False),), ()
)
HARD = Show(
    speeds=(("rack", "din"),),
    devices=(HALL, MIXER),
    controllers=(),
    hands=(),
    home={("mixer", "mute-all"): "off"},
    scenes=tuple(
        (name, {("hall", control): text for control, text in lines.items()})
        for name, lines in (
            (
                "s1",
                {
                    "patch": "near",
                    "mix": "300",
                    "depth": "1",
                    "mode": "tape",
                    "engage": "on",
                    "relay": "left",
                },
            ),
            (
                "s2",
                {
                    "patch": "far",
                    "mix": "300",
                    "depth": "2",
                    "mode": "grain",
                    "engage": "off",
                    "relay": "right",
                },
            ),
        )
    ),
    mutes=(Mute((("hall", "patch"), ("hall", "mode")), ((("mixer", "mute-all"), "on"),), 5, 7),),
)


@cache
def hard() -> Judged:
    """A show of two scenes in which everything moves."""
    return judged(HARD.files(), base=None)


@cache
def change() -> tuple[Sent, ...]:
    """The messages from the first of its scenes to the second."""
    return tuple(on_the_wire(hard(), "s2", "s1"))


def caught(messages: Sequence[Sent]) -> bool:
    """Whether some of 60 rigs as they may be found ends otherwise than the second scene means."""
    for seed in range(60):
        stage = found_stage(HARD, Random(seed))
        assert wrong_after(stage, "s1", on_the_wire(hard(), "s1", None)) == []
        if wrong_after(stage, "s2", messages):
            return True
    return False


def test_the_messages_of_a_hard_change_bring_every_rig_to_the_scene() -> None:
    assert [data.hex(" ").upper() for _, data, _ in change()] == [
        "B1 5A 7F",
        "B0 34 01",
        *("B0 00 00", "B0 20 01", "C0 02"),
        *("B0 33 02", "B0 37 2C"),
        *("B0 63 01", "B0 62 08", "B1 5A 00", "B0 06 02"),
        *("B0 32 7F", "B0 32 00"),
        "C0 06",
    ]
    assert not caught(change())


SPARE = {bytes.fromhex(text) for text in ("B0 00 00", "B0 32 00", "B0 63 01", "B0 62 08")}
"""The half of bank select that stays, the release of a press, a number that was the last one sent."""


def test_each_message_left_out_of_a_hard_change_is_caught() -> None:
    missing = [n for n, (_, data, _) in enumerate(change()) if data not in SPARE]
    assert [caught([*change()[:n], *change()[n + 1 :]]) for n in missing] == [True] * len(missing)


def test_a_press_that_is_sent_twice_is_caught() -> None:
    press = next(sent for sent in change() if sent[1] == bytes.fromhex("B0 32 7F"))
    last = change()[-1]
    assert caught([*change(), (last[0], press[1], last[2] + 100_000)])


def moved(data: str, by_us: int) -> list[Sent]:
    """The messages, one of them earlier or later."""
    at = [(port, sent, starts + by_us * (sent == bytes.fromhex(data))) for port, sent, starts in change()]
    return sorted(at, key=lambda sent: sent[2])


def test_what_a_mute_covers_a_moment_too_early_is_caught() -> None:
    assert change()[1][2] - change()[0][2] == 960 + 5000
    assert caught(moved("B0 34 01", -1))


def test_a_mute_that_is_let_go_a_moment_too_early_is_caught() -> None:
    recall = next(starts for _, data, starts in change() if data == bytes.fromhex("C0 02"))
    release = next(starts for _, data, starts in change() if data == bytes.fromhex("B1 5A 00"))
    early = recall + 640 + 10_000 + 7_000 - release - 1
    assert early < 0
    assert caught(moved("B1 5A 00", early))


def test_a_message_inside_its_boxs_gap_is_caught() -> None:
    assert caught(moved("B0 37 2C", -1))
