"""No check and no diagnostic is left out of its registry: an explicit tuple in the folder's `__init__.py`."""

from __future__ import annotations

from importlib import import_module

import pytest

from tests.house.test_imports import PACKAGE, imports, modules

CHECKS = "switchmatrix.checks"
NAMES = "switchmatrix.diagnostics.names"


def files_of(registry: str) -> list[str]:
    """The modules that lie in a registry's folder."""
    return sorted(name for name in modules(PACKAGE) if name.startswith(f"{registry}."))


def values_of(name: str) -> list[object]:
    """What the file of one diagnostic holds."""
    return list(vars(import_module(f"{NAMES}.{name.replace('-', '_')}")).values())


@pytest.mark.parametrize("registry", [CHECKS, NAMES])
def test_registry_imports_every_file_of_its_folder(registry: str) -> None:
    imported = {one.name for one in imports(PACKAGE, registry)}
    assert [name for name in files_of(registry) if name not in imported] == []


def test_every_file_of_checks_has_one_function_in_the_tuple() -> None:
    assert sorted(check.__module__ for check in import_module(CHECKS).CHECKS) == files_of(CHECKS)


def test_every_file_of_names_has_one_diagnostic_in_the_tuple_named_as_the_file() -> None:
    named = [f"{NAMES}.{diagnostic.name.replace('-', '_')}" for diagnostic in import_module(NAMES).NAMES]
    assert sorted(named) == files_of(NAMES)


def test_every_diagnostic_in_the_tuple_is_the_one_of_its_file() -> None:
    assert [
        one.name for one in import_module(NAMES).NAMES if not any(one is it for it in values_of(one.name))
    ] == []
