"""Which room of the package may import which, and the one door of each outside package.

A room is a top-level folder or file of the package. Every import counts: relative or absolute, inside
functions, under `if TYPE_CHECKING`, and `import_module` with its name written out.
"""

from __future__ import annotations

import ast
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from fnmatch import fnmatchcase
from functools import cache
from pathlib import Path

import pytest

PACKAGE = Path(__file__).parents[2] / "switchmatrix"

ANYTHING = "*"
ROOMS = {
    "source": "",
    "midi": "",
    "diagnostics": "source",
    "files": "source diagnostics",
    "syntax": "source diagnostics",
    "definition": "source midi",
    "controls": "definition midi source diagnostics",
    "model": "source definition midi",
    "bind": "syntax controls model diagnostics definition midi source",
    "states": "bind model controls midi diagnostics definition source",
    "compile": "states model controls midi diagnostics definition source",
    "simulate": "midi definition model source",
    "proof": "compile simulate states model midi diagnostics definition source",
    "checks": "source midi diagnostics files syntax definition controls model bind states compile simulate"
    " proof",
    "compare": "model states compile controls midi definition source",
    "emit": "midi definition model states compile compare diagnostics source",
    "live": "midi model states compile simulate definition diagnostics source",
    "editor": "syntax model definition source diagnostics",
    "manual": "",
    "pipeline": "source midi diagnostics files syntax definition controls model bind states compile simulate"
    " proof checks compare emit editor manual",
    "screens": ANYTHING,
    "cli": ANYTHING,
    "__init__": "pipeline",
    "__main__": "cli",
}
STRANGERS = (
    "checks",
    "controls",
    "emit",
)  # their files import each other only from the registry, `__init__.py`
CLOSED_CHAINS = ("simulate",)  # what their row leaves out is out of reach through others too
LATE = ("__init__",)  # import of ours only on first use

DOORS = {
    "yaml": "syntax/*",
    "jsonschema": "syntax/*",
    "jsonschema_rs": "syntax/*",
    "mido": "live/*",
    "rtmidi": "live/port_*.py",
    "click": "cli/*",
    "textual": "screens/*",
    "rich": "screens/*",
    "rapidfuzz": "diagnostics/nearest.py",
}
ONE_FILE = ("mido",)


@dataclass(frozen=True, slots=True)
class Import:
    """One imported module; `name` is None where it is only known at run time."""

    line: int
    name: str | None
    late: bool


@cache
def modules(package: Path) -> dict[str, Path]:
    """Every module of the package by its dotted name."""
    named = {}
    for path in sorted(package.rglob("*.py")):
        parts = path.relative_to(package.parent).with_suffix("").parts
        named[".".join(parts[:-1] if parts[-1] == "__init__" else parts)] = path
    return named


def room_of(name: str) -> str:
    """The room of a dotted name of ours; the package itself is the room `__init__`."""
    return [*name.split("."), "__init__"][1]


def is_ours(package: Path, name: str) -> bool:
    """Whether a dotted name lies in the package."""
    return name.partition(".")[0] == package.name


def imports(package: Path, module: str) -> list[Import]:
    """Every import that the module's text holds, in the order of its lines."""
    known = modules(package)
    path = known[module]
    home = module if path.name == "__init__.py" else module.rpartition(".")[0]
    tree = ast.parse(path.read_text(encoding="utf-8"))
    late = _late_nodes(tree)
    found = [
        Import(node.lineno, name, node in late)
        for node in ast.walk(tree)
        if isinstance(node, ast.Import | ast.ImportFrom | ast.Call)
        for name in _names(node, home, known)
    ]
    return sorted(found, key=lambda one: one.line)


def _late_nodes(tree: ast.Module) -> set[ast.AST]:
    """Nodes that do not run when the module is loaded: in functions, or for the type checker alone."""
    bodies = [
        node.body
        for node in ast.walk(tree)
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef)
        or (isinstance(node, ast.If) and ast.unparse(node.test).endswith("TYPE_CHECKING"))
    ]
    return {inner for body in bodies for statement in body for inner in ast.walk(statement)}


def _names(
    node: ast.Import | ast.ImportFrom | ast.Call, home: str, known: dict[str, Path]
) -> Iterator[str | None]:
    """The modules that one import names: `from a import b` is `a.b` where that is a module, else `a`."""
    if isinstance(node, ast.Import):
        yield from (alias.name for alias in node.names)
    elif isinstance(node, ast.ImportFrom):
        base = _absolute("." * node.level + (node.module or ""), home)
        for alias in node.names:
            yield f"{base}.{alias.name}" if f"{base}.{alias.name}" in known else base
    elif ast.unparse(node.func).rpartition(".")[2] in ("import_module", "__import__"):
        first = node.args[0] if node.args else None
        written = isinstance(first, ast.Constant) and isinstance(first.value, str)
        yield _absolute(ast.literal_eval(first), home) if first is not None and written else None


def _absolute(name: str, home: str) -> str:
    """A name with leading dots, read from the package `home`; a name without them as it is."""
    plain = name.lstrip(".")
    dots = len(name) - len(plain)
    if dots == 0:
        return plain
    parts = home.split(".")
    return ".".join([*parts[: len(parts) - dots + 1], *([plain] if plain else [])])


def faults(package: Path, module: str) -> list[str]:
    """What the tables have against the imports of one module."""
    if room_of(module) not in ROOMS:
        return [f"room {room_of(module)} is not in the table"]
    judged = ((one.line, _fault(package, module, one)) for one in imports(package, module))
    return [f"line {line}: {fault}" for line, fault in judged if fault]


def _fault(package: Path, module: str, one: Import) -> str | None:
    """What the tables have against one import, or None."""
    if one.name is None:
        return None if ROOMS[room_of(module)] == ANYTHING else "imports what only running it can tell"
    if is_ours(package, one.name):
        return _room_fault(package, module, one.name, one.late)
    outside = one.name.partition(".")[0]
    if outside in sys.stdlib_module_names:
        return None
    path = modules(package)[module].relative_to(package).as_posix()
    return None if fnmatchcase(path, DOORS.get(outside, "")) else f"{outside} has no door in {path}"


def _room_fault(package: Path, module: str, name: str, late: bool) -> str | None:
    """What the rows have against `module` importing `name`, both of the package."""
    room, other = room_of(module), room_of(name)
    if room == other:
        registry = modules(package)[module] == package / room / "__init__.py"
        stranger = room in STRANGERS and not registry
        return f"files of {room} do not import each other: {name}" if stranger else None
    if ROOMS[room] != ANYTHING and other not in ROOMS[room].split():
        return f"{room} may not import {other}"
    return f"{room} may import {other} only on first use" if room in LATE and not late else None


def chain_faults(package: Path, room: str) -> list[str]:
    """The chains of imports by which a room reaches a room that its row does not name."""
    known = modules(package)
    allowed = {room, *ROOMS[room].split()}
    open_chains: list[tuple[str, ...]] = [(module,) for module in known if room_of(module) == room]
    seen: set[str] = set()
    found = []
    while open_chains:
        chain = open_chains.pop(0)
        if room_of(chain[-1]) not in allowed:
            found.append(" -> ".join(chain))
        elif chain[-1] in known and chain[-1] not in seen:
            seen.add(chain[-1])
            open_chains += [(*chain, name) for name in _loaded(package, chain[-1])]
    return found


def _loaded(package: Path, module: str) -> list[str]:
    """The modules of ours that a module names, and the folder's `__init__` that runs before it."""
    named = [one.name for one in imports(package, module) if one.name and is_ours(package, one.name)]
    folder = module.rpartition(".")[0]
    return [*named, *([folder] if folder not in ("", package.name) else [])]


def files_importing(package: Path, outside: str) -> list[str]:
    """The files of the package that import an outside package."""
    return [
        path.relative_to(package).as_posix()
        for module, path in modules(package).items()
        if any((one.name or "").partition(".")[0] == outside for one in imports(package, module))
    ]


@pytest.mark.parametrize("module", modules(PACKAGE))
def test_module_keeps_to_its_rooms_and_doors(module: str) -> None:
    assert faults(PACKAGE, module) == []


@pytest.mark.parametrize("room", CLOSED_CHAINS)
def test_room_reaches_no_other_through_a_chain(room: str) -> None:
    assert chain_faults(PACKAGE, room) == []


@pytest.mark.parametrize("outside", ONE_FILE)
def test_outside_package_is_imported_by_one_file(outside: str) -> None:
    assert files_importing(PACKAGE, outside)[1:] == []


def test_every_folder_with_code_is_a_package() -> None:
    folders = {path.parent for path in PACKAGE.rglob("*.py")}
    assert [folder for folder in sorted(folders) if not (folder / "__init__.py").exists()] == []


# The checker itself, on packages with a fault planted.


def plant(folder: Path, files: dict[str, str]) -> Path:
    """A package of the given texts, with an empty `__init__.py` in each folder that has none."""
    package = folder / "planted"
    for name, text in {"__init__.py": "", **files}.items():
        path = package / name
        path.parent.mkdir(parents=True, exist_ok=True)
        (path.parent / "__init__.py").touch()
        path.write_text(text, encoding="utf-8")
    return package


@pytest.mark.parametrize(
    ("file", "text", "expected"),
    [
        ("states/a.py", "import planted.emit.b", ["line 1: states may not import emit"]),
        ("states/a.py", "from planted.emit import b", ["line 1: states may not import emit"]),
        ("states/a.py", "def f():\n    from ..emit.b import c", ["line 2: states may not import emit"]),
        (
            "states/a.py",
            "if TYPE_CHECKING:\n    from ..emit import b",
            ["line 2: states may not import emit"],
        ),
        ("states/__init__.py", "from ..emit import b", ["line 1: states may not import emit"]),
        ("states/a.py", "import_module('planted.emit')", ["line 1: states may not import emit"]),
        ("states/a.py", "import_module('..emit', __package__)", ["line 1: states may not import emit"]),
        ("states/a.py", "from planted import b", ["line 1: states may not import __init__"]),
        ("states/a.py", "import_module(name)", ["line 1: imports what only running it can tell"]),
        ("states/a.py", "from ..model.b import c\nfrom . import d\nimport json", []),
        ("cellar/a.py", "", ["room cellar is not in the table"]),
        ("cellar.py", "", ["room cellar is not in the table"]),
        ("source.py", "from . import midi", ["line 1: source may not import __init__"]),
        (
            "checks/a.py",
            "from .b import c",
            ["line 1: files of checks do not import each other: planted.checks.b"],
        ),
        (
            "checks/a.py",
            "from . import b",
            ["line 1: files of checks do not import each other: planted.checks"],
        ),
        ("checks/__init__.py", "from .b import c", []),
        ("__main__.py", "from planted.cli import main", []),
        ("emit/a.py", "import yaml", ["line 1: yaml has no door in emit/a.py"]),
        ("syntax/a.py", "from yaml.cyaml import CParser", []),
        ("emit/a.py", "def f():\n    import mido.midifiles", ["line 2: mido has no door in emit/a.py"]),
        ("live/player.py", "import rtmidi", ["line 1: rtmidi has no door in live/player.py"]),
        ("live/port_sender.py", "import rtmidi", []),
        ("pipeline.py", "import click", ["line 1: click has no door in pipeline.py"]),
        ("diagnostics/near.py", "import rapidfuzz", ["line 1: rapidfuzz has no door in diagnostics/near.py"]),
        ("cli/a.py", "import tkwidgets", ["line 1: tkwidgets has no door in cli/a.py"]),
        ("cli/a.py", "import_module(name)\nfrom ..live import b", []),
    ],
)
def test_planted_import_is_judged(tmp_path: Path, file: str, text: str, expected: list[str]) -> None:
    package = plant(tmp_path, {file: text})
    module = file.removesuffix(".py").removesuffix("/__init__").replace("/", ".")
    assert faults(package, f"planted.{module}") == expected


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("from .pipeline import load", ["line 1: __init__ may import pipeline only on first use"]),
        ("def __getattr__(name):\n    from .pipeline import load", []),
        ("def __getattr__(name):\n    from .emit import csv", ["line 2: __init__ may not import emit"]),
    ],
)
def test_package_itself_imports_only_the_pipeline_and_late(
    tmp_path: Path, text: str, expected: list[str]
) -> None:
    package = plant(tmp_path, {"__init__.py": text, "pipeline.py": "", "emit/csv.py": ""})
    assert faults(package, "planted") == expected


def test_planted_chain_is_followed_to_the_room_out_of_reach(tmp_path: Path) -> None:
    package = plant(
        tmp_path,
        {
            "simulate/reader.py": "from ..model.rig import Rig",
            "model/rig.py": "def f():\n    from .codes import g",
            "model/codes.py": "from ..controls import scale",
            "controls/scale.py": "",
        },
    )
    assert chain_faults(package, "simulate") == [
        "planted.simulate.reader -> planted.model.rig -> planted.model.codes -> planted.controls.scale"
    ]


def test_chain_runs_through_the_folder_of_what_is_imported(tmp_path: Path) -> None:
    package = plant(
        tmp_path,
        {
            "simulate/reader.py": "from ..model.rig import Rig",
            "model/__init__.py": "from ..syntax.nodes import Node",
            "model/rig.py": "",
            "syntax/nodes.py": "",
        },
    )
    assert chain_faults(package, "simulate") == [
        "planted.simulate.reader -> planted.model.rig -> planted.model -> planted.syntax.nodes"
    ]


def test_second_file_that_imports_an_outside_package_is_found(tmp_path: Path) -> None:
    package = plant(tmp_path, {"live/a.py": "import mido", "live/b.py": "def f():\n    import mido.ports"})
    assert files_importing(package, "mido") == ["live/a.py", "live/b.py"]
