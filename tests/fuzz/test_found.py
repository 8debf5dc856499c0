"""Inputs that once brought a traceback, a place outside the file or a false finding, each made small."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.cli.kit import lay, run
from tests.fuzz.holding import misplaced, on_disk
from tests.support import BASE_SHOW, judged, names

ECHO = (BASE_SHOW / "definitions" / "two-tap-echo.yaml").read_text(encoding="utf-8")
RIG = (BASE_SHOW / "rigs" / "a-rig.yaml").read_text(encoding="utf-8")


def test_a_control_of_no_known_kind_may_have_a_cc_that_is_no_number() -> None:
    show = judged({"definitions/spare.yaml": "definition: spare\ncontrols:\n  a: {kind: swtch, cc: x}\n"})

    assert names(show) == ["wrong-shape definitions/spare.yaml:3"]


OPEN = (
    *("{", "{o", "[a", "{a b\n: c]", "{a: b c\n: d]\n"),
    *("song: Lantern\nscenes: {verse: [", "song: Lantern\nscenes:\n  verse: {a:"),
)


@pytest.mark.parametrize("text", OPEN)
def test_what_is_said_of_an_open_bracket_has_its_place_in_the_file(text: str) -> None:
    show = judged({"lantern.yaml": text})

    assert misplaced(show, {"lantern.yaml": text.encode()}) == []


@pytest.mark.parametrize("place", ["139:48.607", "279:37.215", "279:37.2159", "999:59.999999"])
def test_a_late_scene_is_compiled_or_refused(tmp_path: Path, place: str) -> None:
    song = (
        "song: Lantern\ntempo: 1000\nhands: [echo]\nscenes:\n  verse: {at: '0:00', gate: tight}\n"
        f"  chorus: {{at: '{place}', gate: loose, echo: cliff, echo.mix: 10 %, echo.time: 100 ms}}\n"
    )

    assert run("compile", lay(tmp_path, {"lantern.yaml": song}), "--out", tmp_path / "out").code in (0, 1)


@pytest.mark.parametrize("settle", ["35 ms", "140000 s", "999999999 s"])
def test_a_settle_of_any_length_is_compiled_or_refused(tmp_path: Path, settle: str) -> None:
    show = lay(tmp_path, {"definitions/two-tap-echo.yaml": ECHO.replace("35 ms", settle)})

    assert run("compile", show, "--out", tmp_path / "out").code in (0, 1)


def test_a_chain_of_rigs_of_any_length_is_read_or_said_to_be_too_long() -> None:
    chain = {f"rigs/r{n}.yaml": f"rig: R\nlike: r{n - 1}\n" for n in range(1, 1100)}

    assert {d.name for d in judged(chain | {"rigs/r0.yaml": RIG}).found} <= {"too-large"}


@pytest.mark.parametrize("name", ["x\ny.yaml", "\x1b[31mred.yaml", "x\ny.yml"])
def test_a_file_name_with_a_control_character_is_shown_on_one_line_without_it(name: str) -> None:
    files = {path.relative_to(BASE_SHOW).as_posix(): path.read_bytes() for path in BASE_SHOW.rglob("*.yaml")}
    with on_disk(files | {name: b"song: X\n"}) as folder:
        ran = run("check", folder, "--format", "lines")

    assert ran.out.count("\n") == 1
    assert ran.out.strip("\n").isprintable()


BROKEN_SCENES = (
    ("song: Lantern\nscenes:\n  verse:\n  chorus: {gate: tight}\n", "value-missing lantern.yaml:3"),
    ("song: Lantern\nscenes: {verse: [], chorus: {gate: tight}}\n", "wrong-shape lantern.yaml:2"),
    ("song: Lantern\nscenes: off\n", "wrong-shape lantern.yaml:2"),
    ("song: Lantern\nscenes: off\norder: [verse, chorus]\n", "wrong-shape lantern.yaml:2"),
)


@pytest.mark.parametrize(("song", "said"), BROKEN_SCENES)
def test_a_change_to_a_scene_that_could_not_be_read_says_nothing_more(song: str, said: str) -> None:
    changes = "changes: {lantern: {scenes: {verse: {gate: loose}}}}\n"

    assert names(judged({"lantern.yaml": song, "rigs/a-rig.yaml": RIG + changes})) == [said]


def test_a_key_put_right_that_is_there_once_more_is_read_once() -> None:
    song = "song: Lantern\ntempo: [{at: bar 1, bpm:multi.der 13, bpm: 126}]\nscenes:\n  verse: {at: bar 1}\n"

    assert names(judged({"lantern.yaml": song})) == ["yaml-syntax lantern.yaml:2"]
