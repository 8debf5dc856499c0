"""`switchmatrix chart`: a definition in a show or alone, and what is said of one that has mistakes."""

from __future__ import annotations

from pathlib import Path

from switchmatrix.emit.chart import chart
from tests.cli.kit import Ran, lay, run
from tests.definition.kit import defined

GATE = "definition: plain gate\ncontrols:\n  threshold: {kind: level, cc: 20, range: [-70 dB, -20 dB]}\n"


def written(folder: Path, text: str, name: str = "gate.yaml") -> Path:
    """A definition's file with nothing beside it."""
    (folder / name).write_text(text, encoding="utf-8")
    return folder / name


def test_a_definition_alone_is_printed_as_its_chart(tmp_path: Path) -> None:
    assert run("chart", written(tmp_path, GATE)) == Ran(0, chart(defined(GATE)), "")


def test_a_definition_of_a_show_is_printed_as_its_chart(tmp_path: Path) -> None:
    show = lay(tmp_path, {"definitions/gate.yaml": GATE})
    assert run("chart", show / "definitions" / "gate.yaml") == Ran(0, chart(defined(GATE)), "")


def test_the_rest_of_the_show_may_be_wrong(tmp_path: Path) -> None:
    show = lay(
        tmp_path, {"definitions/gate.yaml": GATE, "lantern.yaml": "song: [", "definitions/x.yaml": ":"}
    )
    assert run("chart", show / "definitions" / "gate.yaml") == Ran(0, chart(defined(GATE)), "")


def test_a_mistake_is_said_at_its_place_and_no_chart_is_printed(tmp_path: Path) -> None:
    ran = run("chart", written(tmp_path, GATE.replace("cc: 20", "cc: 200")))
    assert ran == Ran(
        1,
        "",
        """\
error number-outside: the CC number is 200; it goes from 0 to 127
  at gate.yaml:3:32
    3 |   threshold: {kind: level, cc: 200, range: [-70 dB, -20 dB]}
                                       ^^^
  what to do: write a number from 0 to 127

1 error: no chart
""",
    )


def test_every_mistake_is_said_in_the_order_of_the_file(tmp_path: Path) -> None:
    text = GATE.replace("cc: 20", "cc: 200").replace("definition:", "definitoin:")
    ran = run("chart", written(tmp_path, text))
    errors = [line.split(":")[0] for line in ran.err.splitlines() if line.startswith("error")]
    assert (ran.code, ran.out, errors) == (1, "", ["error unknown-key", "error number-outside"])


def test_a_file_that_is_no_definition_is_refused_by_its_keys(tmp_path: Path) -> None:
    show = lay(tmp_path)
    ran = run("chart", show / "lantern.yaml")
    assert (ran.code, ran.out, ran.err.splitlines()[0]) == (
        1,
        "",
        "error missing-key: the file lacks `definition`",
    )


def test_a_file_that_is_no_text_is_refused(tmp_path: Path) -> None:
    (tmp_path / "gate.yaml").write_bytes(b"definition: \xff\n")
    ran = run("chart", tmp_path / "gate.yaml")
    assert (ran.code, ran.out, ran.err.splitlines()[0]) == (
        1,
        "",
        "error not-text: byte 0xff is not UTF-8 text",
    )


def test_a_file_that_is_not_there_is_wrong_usage(tmp_path: Path) -> None:
    ran = run("chart", tmp_path / "gate.yaml")
    assert (ran.code, ran.out) == (2, "")


def test_a_folder_is_wrong_usage(tmp_path: Path) -> None:
    ran = run("chart", tmp_path)
    assert (ran.code, ran.out) == (2, "")


def test_a_file_that_is_no_yaml_is_wrong_usage(tmp_path: Path) -> None:
    path = written(tmp_path, GATE, "gate.txt")
    ran = run("chart", path)
    assert (ran.code, ran.out, ran.err.splitlines()[-1]) == (
        2,
        "",
        f"Error: {path} is no definition: name a file of `definitions`, such as two-tap-echo.yaml",
    )


def test_no_file_is_wrong_usage() -> None:
    assert run("chart").code == 2
