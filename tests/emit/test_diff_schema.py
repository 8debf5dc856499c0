"""The schema of a diff's JSON: what `schemas/` holds, and that what is printed keeps to it."""

from __future__ import annotations

import json
from pathlib import Path

import jsonschema
import pytest
from hypothesis import given, settings

from switchmatrix.cli.schema import schema_text
from switchmatrix.compare.diff import diff
from switchmatrix.emit.diff_json import diff_json, diff_schema
from switchmatrix.pipeline import plan_run
from tests.cli.kit import run
from tests.compare.kit import of
from tests.fuzz.shows import AS_DRAWN, Files, shows
from tests.support import judged

ROOT = Path(__file__).parents[2]
VALIDATOR = jsonschema.Draft202012Validator(diff_schema())


def test_the_schemas_folder_holds_what_the_tool_writes() -> None:
    assert (ROOT / "schemas" / "diff.json").read_text(encoding="utf-8") == schema_text(diff_schema())


def test_the_tool_writes_it_beside_those_of_the_files(tmp_path: Path) -> None:
    run("schema", "--out", tmp_path)
    assert (tmp_path / "diff.json").read_text(encoding="utf-8") == schema_text(diff_schema())


def test_it_is_json_schema_2020_12() -> None:
    jsonschema.Draft202012Validator.check_schema(diff_schema())


@settings(max_examples=15, derandomize=True, phases=AS_DRAWN)
@given(shows(), shows())
def test_what_is_printed_keeps_to_it(old: Files, new: Files) -> None:
    found = diff(of(judged(old, base=None)), of(judged(new, base=None)), plan_run)
    said = json.loads(diff_json(found, "OLD", "NEW", wire=True))
    assert [error.message for error in VALIDATOR.iter_errors(said)] == []


@pytest.mark.parametrize("key", ["was", "now", "touches", "at_the_rack"])
def test_a_change_of_a_rig_without_one_of_its_keys_does_not_keep_to_it(key: str) -> None:
    value = {"is": "3", "asked": None, "stored_in": None, "file": None, "line": None}
    change: dict[str, object] = {
        "what": "channel",
        "of": {"was": "echo", "now": "echo"},
        "part": {"was": "", "now": ""},
        "was": value,
        "now": value,
        "at_the_rack": True,
        "touches": {"count": 0, "scenes": []},
    }
    rig = {"was": "a-rig", "now": "a-rig", "changes": [{k: v for k, v in change.items() if k != key}]}
    said = {"format": 1, "old": "a", "new": "b", "different": True, "show": [], "rigs": [rig], "legs": []}
    assert [error.message for error in VALIDATOR.iter_errors({**said, "wire": None})] == [
        f"'{key}' is a required property"
    ]
