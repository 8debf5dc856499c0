"""`switchmatrix prove`, and `compile`, which proves first."""

from __future__ import annotations

from pathlib import Path

import pytest

from switchmatrix.model.rig import Device
from switchmatrix.pipeline import judge
from switchmatrix.proof.bench import Wire
from switchmatrix.proof.report import RunProof
from switchmatrix.proof.run import prove
from switchmatrix.states.show import Run
from tests.cli.kit import TWO_LEGS, below, lay, run

SONGS = Path(__file__).parents[2] / "songs"
SCENES = {
    "lantern.yaml": """\
song: Lantern
scenes:
  verse: {gate: tight, echo: slap}
  chorus: {like: verse, echo: {patch: cliff, mix: 60 %}}
  bridge: {like: chorus, echo.mix: as stored}
"""
}


def over(monkeypatch: pytest.MonkeyPatch, wire: Wire, command: str = "prove") -> None:
    """Let the command's messages go over a wire."""

    def proved(leg: Run, *, every_pair: bool = False) -> RunProof:
        return prove(leg, wire, every_pair=every_pair)

    monkeypatch.setattr(f"switchmatrix.cli.{command}.prove", proved)


def losing(*lost: str) -> Wire:
    """A wire that loses these messages."""
    gone = {bytes.fromhex(message) for message in lost}
    return lambda _, data: tuple(message for message in data if message not in gone)


def test_the_example_show_is_proved() -> None:
    ran = run("prove", SONGS)

    legs = [f"{one.leg.name} on {one.rig.id}: proved" for one in judge(SONGS).worked_out.runs]
    assert (ran.code, ran.err) == (0, "")
    assert [": ".join(line.split(": ")[:2]) for line in ran.out.splitlines()] == legs


def test_each_leg_on_each_rig_has_a_line(tmp_path: Path) -> None:
    ran = run("prove", lay(tmp_path, TWO_LEGS))

    assert (ran.code, ran.err) == (0, "")
    assert ran.out == (
        "summer on a-rig: proved: 5 states, 30 transitions, and each device comes to each state\n"
        "summer on b-rig: proved: 5 states, 30 transitions, and each device comes to each state\n"
        "winter on a-rig: proved: 3 states, 12 transitions, and each device comes to each state\n"
    )


def test_one_leg_on_one_rig_is_proved(tmp_path: Path) -> None:
    ran = run("prove", lay(tmp_path, TWO_LEGS), "--leg", "summer", "--rig", "b-rig")

    assert (ran.code, ran.err) == (0, "")
    assert ran.out == (
        "summer on b-rig: proved: 5 states, 30 transitions, and each device comes to each state\n"
    )


def test_every_pair_says_the_same(tmp_path: Path) -> None:
    show = lay(tmp_path, TWO_LEGS)

    assert run("prove", show, "--every-pair") == run("prove", show)


def test_a_leg_that_is_not_there_is_a_wrong_use(tmp_path: Path) -> None:
    ran = run("prove", lay(tmp_path), "--leg", "sumer")

    assert (ran.code, ran.out) == (2, "")
    assert "Error: no leg is called sumer" in ran.err


def test_a_show_with_an_error_is_not_proved(tmp_path: Path) -> None:
    ran = run("prove", lay(tmp_path, {"lantern.yaml": "song: Lantern\nscenes: {verse: {gate: shut}}\n"}))

    assert (ran.code, ran.out) == (1, "")
    assert "nothing was compiled" in ran.err


# The chorus edits the mix of its patch; without that message it stays as the patch stores it.
def test_a_message_that_is_lost_is_told_with_the_bytes(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    over(monkeypatch, losing("B2 15 3C"))

    ran = run("prove", lay(tmp_path, SCENES))

    assert (ran.code, ran.err) == (1, "")
    assert (
        ran.out
        == """\
tour on a-rig: not proved: 3 states, 12 transitions, and this is wrong:

from unknown (and from 2 more) to lantern chorus: echo.mix
  wanted 60 % (code 60)
  got    35 % (code 35)
  bytes  C2 10
"""
    )


# What `slap` stores is not written down, so only its recall brings it back: the old patch would stay.
def test_a_patch_that_is_not_called_is_told_by_its_name(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    over(monkeypatch, losing("C2 03"))

    ran = run("prove", lay(tmp_path, SCENES))

    assert (ran.code, ran.err) == (1, "")
    assert (
        ran.out
        == """\
tour on a-rig: not proved: 3 states, 12 transitions, and this is wrong:

from unknown (and from 2 more) to lantern verse: echo.patch
  wanted slap (panel 4)
  got    nobody knows what

from unknown (and from 2 more) to lantern verse: echo.mix
  wanted as slap (panel 4) stores it
  got    nobody knows what

from unknown (and from 2 more) to lantern verse: echo.time
  wanted as slap (panel 4) stores it
  got    nobody knows what
"""
    )


def test_a_message_on_another_devices_channel_is_told_for_both(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def astray(device: Device, data: tuple[bytes, ...]) -> tuple[bytes, ...]:
        return tuple(bytes((0xB2, 0x15, m[2])) if device.name == "gate-1" else m for m in data)

    over(monkeypatch, astray)

    ran = run("prove", lay(tmp_path, SCENES))

    assert ran.code == 1
    assert ran.out.startswith("""\
tour on a-rig: not proved: 3 states, 12 transitions, and this is wrong:
  gate-1 and echo hear each other's messages: proved together, 12 transitions

from unknown to lantern verse: gate-1.threshold
  wanted -38 dB (code 64)
  got    nobody knows what
  bytes  B2 15 40

from unknown to lantern verse: gate-1.threshold
""")


def test_only_twenty_counterexamples_are_printed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    many = "".join(f"  s{n}: {{gate-1.threshold: -{n + 21} dB, echo: cliff}}\n" for n in range(30))
    over(monkeypatch, lambda _, data: data[:0])

    ran = run("prove", lay(tmp_path, {"lantern.yaml": f"song: Lantern\nscenes:\n{many}"}))

    assert ran.code == 1
    assert ran.out.count("  wanted ") == 20
    assert ran.out.splitlines()[-1] == "and 14 more"


def test_many_states_say_what_the_time_grows_with(tmp_path: Path) -> None:
    many = "".join(f"  s{n}: {{echo.mix: {n} %, echo.time: 10 ms}}\n" for n in range(66))

    ran = run("prove", lay(tmp_path, {"lantern.yaml": f"song: Lantern\nscenes:\n{many}"}))

    assert ran.out == (
        "tour on a-rig: proved: 66 states, 4,422 transitions, and each device comes to each state\n"
        "  one device has 66 states: past 64, the time may grow with the sum of the squares of the devices' "
        "states\n"
    )


def test_compile_writes_nothing_where_the_proof_fails(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    over(monkeypatch, losing("B2 15 3C"), "compile")

    ran = run("compile", lay(tmp_path, SCENES), "--out", tmp_path / "out")

    assert (ran.code, ran.out) == (1, "")
    assert (
        ran.err
        == """\
tour on a-rig: not proved: 3 states, 12 transitions, and this is wrong:

from unknown (and from 2 more) to lantern chorus: echo.mix
  wanted 60 % (code 60)
  got    35 % (code 35)
  bytes  C2 10

nothing was written: `--no-prove` writes it all the same
"""
    )
    assert not (tmp_path / "out").exists()


def test_no_prove_writes_it_all_the_same(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    show = lay(tmp_path, SCENES)
    run("compile", show, "--out", tmp_path / "proved")
    over(monkeypatch, losing("B2 15 3C"), "compile")

    ran = run("compile", show, "--no-prove", "--out", tmp_path / "out")

    assert (ran.code, ran.err) == (0, "")
    assert below(tmp_path / "out") == below(tmp_path / "proved")


def test_no_prove_does_not_prove(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    proved: list[str] = []

    def counts(leg: Run) -> RunProof:
        proved.append(leg.leg.name)
        return prove(leg)

    monkeypatch.setattr("switchmatrix.cli.compile.prove", counts)
    show = lay(tmp_path, SCENES)

    run("compile", show, "--no-prove", "--out", tmp_path / "out")
    assert proved == []
    run("compile", show, "--out", tmp_path / "out")
    assert proved == ["tour"]
