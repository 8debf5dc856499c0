"""`ports`: what the machine has, and how the show's ports match it."""

from __future__ import annotations

from pathlib import Path

import pytest

from switchmatrix.live.records import NoPorts, Ports
from tests.cli.kit import lay, run
from tests.cli.wired import listed


def show(folder: Path) -> Path:
    """The base show, its port with a return."""
    where = lay(folder)
    rig = where / "rigs" / "a-rig.yaml"
    text = rig.read_text(encoding="utf-8").replace("{out: rack,", "{out: rack, in: rack return,")
    rig.write_text(text, encoding="utf-8")
    return where


def test_machine_is_listed_without_a_show(monkeypatch: pytest.MonkeyPatch) -> None:
    listed(monkeypatch, Ports("jack", (), ("box:rack", "switchmatrix stand-in 7:rack")))
    assert run("ports").out == (
        "MIDI ports of this machine (jack)\n"
        "  out  box:rack\n"
        "  out  switchmatrix stand-in 7:rack  (a stand-in, not a real rig)\n"
        "  in   none\n"
    )


def test_ports_of_the_show_that_are_found(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    listed(monkeypatch, Ports("jack", ("box:rack return",), ("box:rack",)))
    ran = run("ports", show(tmp_path))
    assert ran.out.partition("\n\n")[2] == ("A rig\n  rack out: box:rack\n  rack in: box:rack return\n")
    assert ran.code == 0


def test_missing_port_is_told_with_what_there_is(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    listed(monkeypatch, Ports("jack", ("box:rack return",), ("box:other",)))
    ran = run("ports", show(tmp_path))
    assert "  rack out: no port is `rack`; there is only `box:other`\n" in ran.out
    assert ran.code == 1


def test_name_that_fits_two_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    listed(monkeypatch, Ports("jack", ("box:rack return",), ("a:rack", "b:rack")))
    ran = run("ports", show(tmp_path))
    assert "  rack out: `rack` could be `a:rack` and `b:rack`; there are `a:rack`, `b:rack`\n" in ran.out
    assert ran.code == 1


def test_two_ports_of_the_rig_that_are_one_of_the_machine_are_told(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    where = lay(tmp_path)
    rig = where / "rigs" / "a-rig.yaml"
    text = rig.read_text(encoding="utf-8").replace(
        "ports:\n", "ports:\n  spare: {out: the rack, speed: din}\n"
    )
    rig.write_text(text.replace("{out: rack,", "{out: rack port,"), encoding="utf-8")
    listed(monkeypatch, Ports("jack", (), ("box:the rack port",)))
    ran = run("ports", where)
    assert "  spare and rack would both send to `box:the rack port`: write `out` and `in` so" in ran.out
    assert ran.code == 1


def test_machine_without_a_midi_server_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    listed(monkeypatch, NoPorts("JACK does not answer"))
    ran = run("ports")
    assert (ran.code, ran.err) == (1, "JACK does not answer\n")


def test_unknown_rig_is_wrong_usage(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    listed(monkeypatch, Ports("jack", (), ()))
    ran = run("ports", lay(tmp_path), "--rig", "b-rig")
    assert ran.code == 2
    assert "no rig is called b-rig" in ran.err
