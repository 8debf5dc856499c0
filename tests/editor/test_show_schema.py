"""One show's own schemas: what an editor offers and underlines."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import jsonschema
import pytest
import yaml
from click.testing import CliRunner

from switchmatrix.cli.common import written_of
from switchmatrix.cli.schema import command, schema_text
from switchmatrix.editor.show_schema import show_schema
from switchmatrix.pipeline import judge, kind_of
from switchmatrix.syntax.shapes import FILES, Schema
from tests.support import BASE_SHOW, judged

SONGS = Path(__file__).parents[2] / "songs"
PATHS = sorted(path.relative_to(SONGS).as_posix() for path in SONGS.rglob("*.yaml"))
EXAMPLE = {kind: show_schema(kind, written_of(judge(SONGS).model)) for kind in FILES}
BASE = {kind: show_schema(kind, written_of(judge(BASE_SHOW).model)) for kind in FILES}


def complaints(shape: Schema, text: str) -> list[str]:
    """Where the schema says no: the path of each complaint."""
    errors = jsonschema.Draft202012Validator(shape).iter_errors(yaml.load(text, yaml.CBaseLoader))
    return sorted(error.json_path for error in errors)


@pytest.mark.parametrize("kind", FILES)
def test_the_example_shows_schemas_folder_holds_what_the_tool_writes(kind: str) -> None:
    assert (SONGS / "schemas" / f"{kind}.json").read_text(encoding="utf-8") == schema_text(EXAMPLE[kind])


@pytest.mark.parametrize("kind", FILES)
def test_each_schema_of_a_show_is_json_schema_2020_12(kind: str) -> None:
    jsonschema.Draft202012Validator.check_schema(EXAMPLE[kind])


@pytest.mark.parametrize("path", PATHS)
def test_the_example_show_fits_its_own_schemas(path: str) -> None:
    assert complaints(EXAMPLE[kind_of(path)], (SONGS / path).read_text(encoding="utf-8")) == []


@pytest.mark.parametrize(
    "scene",
    [
        "{gate: tight}",
        "{echo: on}",
        "{echo: cliff}",
        "{echo: {engage: on, patch: slap, time: 1/8 dotted}}",
        "{echo.patch: home}",
        "{echo.mix: as stored}",
        "{at: [bar 1, bar 9], like: chorus, remark: lamps down}",
        "chorus",
    ],
)
def test_what_the_tool_understands_is_not_underlined(scene: str) -> None:
    text = f"song: Lantern\nscenes:\n  verse: {scene}\n  chorus: {{}}\n"
    assert complaints(BASE["song"], text) == []


@pytest.mark.parametrize(
    ("scene", "at"),
    [
        ("{gate: tigt}", "$.scenes.verse.gate"),
        ("{gaet: tight}", "$.scenes.verse"),
        ("{echo: clif}", "$.scenes.verse.echo"),
        ("{echo: {patch: clif}}", "$.scenes.verse.echo.patch"),
        ("{echo: {mixx: 40 %}}", "$.scenes.verse.echo"),
        ("{echo.engage: yes}", "$.scenes.verse['echo.engage']"),
        ("{like: chorsu}", "$.scenes.verse.like"),
        ("{instrument: mandola}", "$.scenes.verse.instrument"),
    ],
)
def test_what_means_nothing_in_this_show_is_underlined(scene: str, at: str) -> None:
    text = f"song: Lantern\nscenes:\n  verse: {scene}\n"
    rig = {"instrument": {"enum": ["baritone"]}}
    shape = {**BASE["song"], "$defs": {**BASE["song"]["$defs"], **rig}}
    assert complaints(shape, text) == [at]


def test_an_entrys_words_are_an_enum() -> None:
    shape = BASE["song"]
    line = shape["properties"]["base"]["$ref"].rpartition("/")[2]
    gate = shape["$defs"][line]["properties"]["gate"]["$ref"].rpartition("/")[2]
    assert shape["$defs"][gate] == {"description": "a word of gate", "enum": ["loose", "tight"]}


NEW_PLACES = {
    "show.yaml": "show: Tidewrack\nrigs: [b-rig]\nlegs: {tour: {rigs: [b-rig], setlist: []}}\n",
    "definitions/button-amp.yaml": """\
definition: amplifier with push buttons
controls:
  lead: {kind: switch, cc: 80, toggle: {press: 127, release: 0}, powers-up: off}
  depth: {kind: level, cc: 20, range: [0, 10], channel: upper}
""",
    "rigs/b-rig.yaml": """\
rig: B rig
like: a-rig
devices:
  amp: {port: rack, channels: {main: 5, upper: 6}, definition: button-amp}
  hold: {port: rack, channel: 7, definition: plain-gate}
""",
}
"""A show with a switch that can only be flipped, a second channel, and a device with the name of a key."""


def in_a_rig(section: str) -> str:
    """A rig's file with one section more."""
    return f"rig: C rig\nlike: a-rig\n{section}\n"


@pytest.mark.parametrize(
    "section",
    [
        "mutes: [{while: [amp.lead, echo.patch], hold: {echo: off, amp.depth: 3}}]",
        "devices: {amp: {channels: {main: 1, upper: 2}, powers-up: {lead: on}}}",
        "home: {hold.threshold: -38 dB}",
    ],
)
def test_names_of_the_show_fit_where_a_rig_has_them(section: str) -> None:
    shape = show_schema("rig", written_of(judged(NEW_PLACES).model))
    assert complaints(shape, in_a_rig(section)) == []


@pytest.mark.parametrize(
    ("section", "at"),
    [
        ("mutes: [{while: [amp.laed], hold: {echo: off}}]", "$.mutes[0].while[0]"),
        ("mutes: [{while: [amp.lead], hold: {echo.engaeg: off}}]", "$.mutes[0].hold"),
        ("mutes: [{while: [amp.lead], hold: {echo.engage: shut}}]", "$.mutes[0].hold['echo.engage']"),
        ("mutes: [{while: [echo.patch], hold: {amp.lead: off}}]", "$.mutes[0].hold"),
        ("devices: {amp: {channels: {main: 1, uper: 2}}}", "$.devices.amp.channels"),
        ("devices: {amp: {powers-up: {laed: on}}}", "$.devices.amp['powers-up']"),
        ("devices: {amp: {powers-up: {depth: on}}}", "$.devices.amp['powers-up']"),
    ],
)
def test_a_name_that_is_none_of_the_shows_is_underlined_where_a_rig_has_it(section: str, at: str) -> None:
    shape = show_schema("rig", written_of(judged(NEW_PLACES).model))
    assert complaints(shape, in_a_rig(section)) == [at]


def test_what_a_choice_resets_is_offered_and_a_new_control_is_not_underlined() -> None:
    shape = show_schema("definition", written_of(judged(NEW_PLACES).model))
    kinds = json.dumps(shape)
    text = """\
definition: box
controls: {mode: {kind: choice, cc: 30, values: {a: 0}, resets: [depth, not yet written]}}
"""
    assert complaints(shape, text) == []
    controls = ["depth", "engage", "lead", "mix", "threshold", "time"]
    assert json.dumps({"description": "a control of this definition", "enum": controls}) in kinds


def test_a_show_in_the_making_gets_schemas_of_what_can_be_read(tmp_path: Path) -> None:
    show = tmp_path / "show"
    shutil.copytree(BASE_SHOW, show)
    (show / "lantern.yaml").write_text("song: Lantern\nscenes:\n  verse: {gate: tigt\n", encoding="utf-8")

    result = CliRunner().invoke(command, [str(show)])

    assert (result.exit_code, result.output) == (
        0,
        f"show.json, rig.json, song.json, definition.json written into {show / 'schemas'}\n",
    )
    written = json.loads((show / "schemas" / "rig.json").read_text(encoding="utf-8"))
    assert written["$defs"]["definition"]["enum"] == ["plain-gate", "two-tap-echo"]
