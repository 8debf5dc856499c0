"""`switchmatrix stages`: the value after each stage, a field a line."""

from __future__ import annotations

from pathlib import Path

from tests.cli.kit import lay, run


def _fields(text: str, depth: int) -> list[str]:
    """The lines of one depth of indentation, stripped."""
    indent = "  " * depth
    return [
        line.strip() for line in text.splitlines() if line.startswith(indent) and line[len(indent)] != " "
    ]


def test_nodes_are_the_files_as_they_are_written(tmp_path: Path) -> None:
    (tmp_path / "show.yaml").write_text("show: no\nrigs: [08]\nlegs: {}\n", encoding="utf-8")

    ran = run("stages", tmp_path, "--stage", "nodes")

    assert (ran.code, ran.err) == (0, "")
    assert ran.out == (
        """\
1 entries
  show.yaml: Mapping
    entries: 3 items
      1: 2 items
        1: Scalar
          text: show
          span: show.yaml:1:1
          plain: True
        2: Scalar
          text: no
          span: show.yaml:1:7
          plain: True
      2: 2 items
        1: Scalar
          text: rigs
          span: show.yaml:2:1
          plain: True
        2: Sequence
          items: 1 items
            1: Scalar
              text: 08
              span: show.yaml:2:8
              plain: True
          span: show.yaml:2:7
      3: 2 items
        1: Scalar
          text: legs
          span: show.yaml:3:1
          plain: True
        2: Mapping
          entries: 0 items
          span: show.yaml:3:7
    span: show.yaml:1:1
"""
    )


def test_the_model_is_the_show_with_its_definitions_songs_and_rigs(tmp_path: Path) -> None:
    ran = run("stages", lay(tmp_path), "--stage", "model")

    assert (ran.code, ran.err, _fields(ran.out, 0), _fields(ran.out, 1)[:5]) == (
        0,
        "",
        ["Model"],
        [
            "show: Show",
            "leg_changes: 0 entries",
            "definitions: 2 entries",
            "songs: 1 entries",
            "rigs: 1 entries",
        ],
    )


def test_states_hold_each_scene_of_each_song_in_full(tmp_path: Path) -> None:
    ran = run("stages", lay(tmp_path), "--stage", "states")

    scenes = [line.strip() for line in ran.out.splitlines() if line.strip().startswith("scene: ")]
    assert (ran.code, ran.err, ran.out.splitlines()[0]) == (0, "", "ShowStates")
    assert [line for line in dict.fromkeys(scenes) if line in ("scene: verse", "scene: chorus")] == [
        "scene: verse",
        "scene: chorus",
    ]


def test_the_plan_holds_the_bytes_of_each_visit_and_of_each_state_from_unknown(tmp_path: Path) -> None:
    ran = run("stages", lay(tmp_path), "--stage", "plan")

    assert (ran.code, ran.err, ran.out.splitlines()[:2]) == (0, "", ["1 items", "  1: LegPlan"])
    assert [line.strip() for line in ran.out.splitlines() if line.strip().startswith("data: ")] == [
        "data: C2 03",
        "data: B1 14 40",
        "data: B2 50 00",
        "data: C2 10",
        "data: B2 50 7F",
        "data: C2 03",
        "data: B1 14 40",
        "data: B2 50 00",
        "data: C2 10",
        "data: B1 14 40",
        "data: B2 50 7F",
    ]


def test_a_show_with_an_error_has_no_plan(tmp_path: Path) -> None:
    show = lay(tmp_path, {"lantern.yaml": "song: Lantern\nscenes:\n  verse: {gate: tigh}\n"})

    ran = run("stages", show, "--stage", "plan")

    assert (ran.code, ran.out, ran.err) == (
        1,
        "",
        "Error: the show has errors, so it has no plan: see `switchmatrix check`\n",
    )


def test_a_show_with_an_error_still_has_its_nodes_and_model(tmp_path: Path) -> None:
    show = lay(tmp_path, {"lantern.yaml": "song: Lantern\nscenes:\n  verse: {gate: tigh}\n"})

    assert [run("stages", show, "--stage", stage).code for stage in ("nodes", "model", "states")] == [0, 0, 0]


def test_no_stage_named_is_wrong_usage(tmp_path: Path) -> None:
    assert run("stages", lay(tmp_path)).code == 2
