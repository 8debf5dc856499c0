"""The floor that check and compile are held against: only parse the show's files and validate them.

Run as a program on a show: PyYAML's C loader to plain values (CBaseLoader), then jsonschema. Prints the
seconds of each.
"""

from __future__ import annotations

import json
import sys
import time
from pathlib import Path

import jsonschema
import yaml

from switchmatrix.pipeline import kind_of
from switchmatrix.syntax.shapes import FILES, schema


def floor(folder: Path) -> tuple[float, float]:
    """Seconds of parsing and of validating every file of a show."""
    validators = {kind: jsonschema.Draft202012Validator(schema(kind)) for kind in FILES}
    start = time.perf_counter()
    values = {
        path.relative_to(folder).as_posix(): yaml.load(path.read_text(encoding="utf-8"), yaml.CBaseLoader)
        for path in sorted(folder.rglob("*.yaml"))
    }
    parsed = time.perf_counter()
    for path, value in values.items():
        validators[kind_of(path)].validate(value)
    return parsed - start, time.perf_counter() - parsed


if __name__ == "__main__":
    parse, validate = floor(Path(sys.argv[1]))
    sys.stdout.write(json.dumps({"parse": parse, "validate": validate}) + "\n")
