"""`send` after a fault: what is still missing is told, and a show may have opted out of being asked."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.cli.flaky import GONE, Living, hurry, machines, rig_of
from tests.cli.kit import lay
from tests.cli.test_send_faults import WITH_SILENCE
from tests.cli.wired import answered

SHOW = "show: Tidewrack\nask-after-fault: no\nrigs: [a-rig]\n"
UNASKED = {**WITH_SILENCE, "show.yaml": SHOW + "legs: {tour: {rigs: [a-rig], setlist: [lantern]}}\n"}
ASKED = "and the monitor engineer been told? Send again, silence first? [y/N]: "


def test_what_is_still_missing_is_told_and_it_asks_again(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    show = lay(tmp_path, WITH_SILENCE)
    rig = rig_of(show, "a-rig")
    back = Living(rig)
    machines(monkeypatch, Living(rig, dies=2), GONE, GONE, back)
    code, out = answered("send", show, "lantern", "verse", "--yes", said="y\ny\ny\n")
    assert code == 0, out
    assert out.count(f"{ASKED}y\nJACK does not answer\nnothing was sent\n") == 2
    assert (back.heard[0], len(back.heard)) == ("B1 14 64", 7)


def test_no_ends_it_while_the_server_is_still_dead(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    show = lay(tmp_path, WITH_SILENCE)
    sought = machines(monkeypatch, Living(rig_of(show, "a-rig"), dies=2), GONE)
    code, out = answered("send", show, "lantern", "verse", "--yes", said="y\nn\n")
    assert (code, sought()) == (1, 2)
    assert out.endswith(
        f"JACK does not answer\nnothing was sent\nAre the outputs muted, and have the player {ASKED}n\n"
    )


def test_end_of_input_is_no_yes(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    show = lay(tmp_path, WITH_SILENCE)
    sought = machines(monkeypatch, Living(rig_of(show, "a-rig"), dies=2), GONE)
    code, _ = answered("send", show, "lantern", "verse", "--yes", said="y\n")
    assert (code, sought()) == (1, 2)


def test_fault_while_it_goes_on_is_asked_about_like_the_first(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    show = lay(tmp_path, WITH_SILENCE)
    rig = rig_of(show, "a-rig")
    back = Living(rig)
    machines(monkeypatch, Living(rig, dies=2), Living(rig, dies=1), back)
    code, out = answered("send", show, "lantern", "verse", "--yes", said="y\ny\n")
    assert (code, out.count(ASKED), len(back.heard)) == (0, 2, 7)


def test_rig_without_silence_is_not_said_to_have_it(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    show = lay(tmp_path)
    machines(monkeypatch, Living(rig_of(show, "a-rig"), dies=2))
    _, out = answered("send", show, "lantern", "verse", "--yes", said="n\n")
    assert "been told? Send again? [y/N]: n\n" in out


def test_show_that_opted_out_is_sent_again_unasked_with_the_caution_and_silence_first(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    show = lay(tmp_path, UNASKED)
    rig = rig_of(show, "a-rig")
    back = Living(rig)
    machines(monkeypatch, Living(rig, dies=2), back)
    code, out = answered("send", show, "lantern", "verse", "--yes", said="")
    after = out.partition("The show says `ask-after-fault: no`, so it goes on with nobody asked.\n")[2]
    assert (code, back.heard[0], len(back.heard)) == (0, "B1 14 64", 7)
    assert "A change can jump in level: outputs muted" in after
    assert "[y/N]" not in after


def test_show_that_opted_out_still_asks_before_the_first_byte(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    show = lay(tmp_path, UNASKED)
    only = Living(rig_of(show, "a-rig"))
    machines(monkeypatch, only)
    code, _ = answered("send", show, "lantern", "verse", said="n\n")
    assert (code, only.heard) == (1, [])


def test_show_that_opted_out_waits_for_a_server_that_is_gone(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    show = lay(tmp_path, UNASKED)
    rig = rig_of(show, "a-rig")
    back = Living(rig)
    machines(monkeypatch, Living(rig, dies=2), GONE, GONE, back)
    hurry(monkeypatch, 30)
    code, out = answered("send", show, "lantern", "verse", "--yes", said="")
    assert (code, len(back.heard)) == (0, 7)
    assert out.count("JACK does not answer\nwaiting for it, 30 s at most; Ctrl-C ends it\n") == 1


def test_server_that_stays_dead_ends_the_waiting_with_a_question(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    show = lay(tmp_path, UNASKED)
    sought = machines(monkeypatch, Living(rig_of(show, "a-rig"), dies=2), *[GONE] * 50)
    hurry(monkeypatch, 3)
    code, out = answered("send", show, "lantern", "verse", "--yes", said="")
    assert (code, sought() < 8) == (1, True)
    assert "nothing was sent: it did not come back\nNothing more is sent until a person says so." in out
    assert ASKED in out


def test_server_that_dies_again_and_again_is_asked_about_after_three_times(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    show = lay(tmp_path, UNASKED)
    rig = rig_of(show, "a-rig")
    sought = machines(monkeypatch, *[Living(rig, dies=2) for _ in range(20)])
    code, out = answered("send", show, "lantern", "verse", "--yes", said="n\n")
    assert (code, sought(), out.count("nobody asked")) == (1, 4, 3)
    assert f"{ASKED}n\n" in out
