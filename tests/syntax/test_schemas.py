"""The schemas folder is what the tool writes, and judges the example show as the tool does."""

from __future__ import annotations

import json
import re
from pathlib import Path

import jsonschema
import pytest
import yaml

from switchmatrix.cli.schema import schema_text
from switchmatrix.pipeline import kind_of
from switchmatrix.syntax.shapes import FILES, schema

ROOT = Path(__file__).parents[2]
SONGS = ROOT / "songs"
SHOWN = sorted(path.relative_to(SONGS).as_posix() for path in SONGS.rglob("*.yaml"))


class CoreLoader(yaml.SafeLoader):
    """Types scalars as YAML 1.2.2 section 10.3.2 (core schema) has it, which editors follow."""


CoreLoader.yaml_implicit_resolvers = {}
CoreLoader.add_implicit_resolver("tag:yaml.org,2002:bool", re.compile("^(?:true|false)$"), list("tf"))
CoreLoader.add_implicit_resolver("tag:yaml.org,2002:int", re.compile("^[-+]?[0-9]+$"), list("-+0123456789"))
CoreLoader.add_implicit_resolver(
    "tag:yaml.org,2002:float", re.compile(r"^[-+]?[0-9]+\.[0-9]+$"), list("-+0123456789")
)


@pytest.mark.parametrize("kind", FILES)
def test_the_schemas_folder_holds_what_the_tool_writes(kind: str) -> None:
    assert (ROOT / "schemas" / f"{kind}.json").read_text(encoding="utf-8") == schema_text(schema(kind))


@pytest.mark.parametrize("kind", FILES)
def test_each_schema_is_json_schema_2020_12(kind: str) -> None:
    shape = json.loads(schema_text(schema(kind)))
    assert shape["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    jsonschema.Draft202012Validator.check_schema(shape)


@pytest.mark.parametrize("path", SHOWN)
def test_an_editor_that_types_scalars_accepts_the_example_show(path: str) -> None:
    typed = yaml.load((SONGS / path).read_text(encoding="utf-8"), Loader=CoreLoader)
    validator = jsonschema.Draft202012Validator(json.loads(schema_text(schema(kind_of(path)))))
    assert [error.message for error in validator.iter_errors(typed)] == []
