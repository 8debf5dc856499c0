"""Hold a file's nodes to the schema of its kind; what does not fit is said once and taken out."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from typing import Any

from switchmatrix.diagnostics import names
from switchmatrix.diagnostics.diagnostic import Diagnostic
from switchmatrix.diagnostics.nearest import did_you_mean, nearest
from switchmatrix.source import Span
from switchmatrix.syntax.nodes import Broken, Mapping, Node, Scalar, Sequence, plain_value
from switchmatrix.syntax.shapes import SCALARS, schema

Path = tuple[str | int, ...]

_WANTED = {"object": "a block of `key: value` lines", "array": "a list in brackets", "string": "a text"}


def check_shape(root: Node, kind: str) -> tuple[Node, list[Diagnostic]]:
    """`root` with every part that breaks the schema of `kind` taken out, and a finding for each."""
    value = plain_value(root)
    if isinstance(root, Broken) or _quick(kind).is_valid(value):
        return root, []
    found: list[Diagnostic] = []
    root = _respelt(root, kind, value, found)
    value = plain_value(root)
    bad: dict[Path, Span] = {}
    for error in _errors(kind, value):
        path: Path = tuple(error.absolute_path)
        node = _at(root, path)
        if error.validator == "additionalProperties":
            for key in _unknown_keys(error):
                found.append(_unknown_key(node, key, error.schema["properties"]))
                bad[(*path, key)] = node.span
        elif not isinstance(node, Broken) and not any(path[:n] in bad for n in range(len(path) + 1)):
            bad[path] = node.span
            found.append(_misfit(root, path, node, error))
    return _without(root, (), bad), found


def _respelt(root: Node, kind: str, value: object, found: list[Diagnostic]) -> Node:
    """The tree with misspelt keys put right: each is an error, but nothing follows from it."""
    meant: dict[Path, str] = {}
    for error in _errors(kind, value):
        if error.validator != "additionalProperties":
            continue
        path: Path = tuple(error.absolute_path)
        node = _at(root, path)
        for key in _unknown_keys(error):
            near = nearest(key, error.schema["properties"])
            taken = {known for place, known in meant.items() if place[:-1] == path}
            if near is not None and near not in error.instance and near not in taken:
                meant[*path, key] = near
                found.append(_unknown_key(node, key, error.schema["properties"]))
    return _renamed(root, (), meant) if meant else root


def _renamed(node: Node, path: Path, meant: dict[Path, str]) -> Node:
    if isinstance(node, Mapping):
        entries = []
        for key, value in node.entries:
            below = (*path, key.text)
            named = Scalar(meant[below], key.span, key.plain) if below in meant else key
            entries.append((named, _renamed(value, below, meant)))
        return Mapping(tuple(entries), node.span)
    if isinstance(node, Sequence):
        items = tuple(_renamed(item, (*path, n), meant) for n, item in enumerate(node.items))
        return Sequence(items, node.span)
    return node


@cache
def _quick(kind: str) -> Any:
    """Says valid or not, a hundred times faster than the validator that words the failures."""
    import jsonschema_rs

    return jsonschema_rs.validator_for(schema(kind))


def _errors(kind: str, value: object) -> Iterator[Any]:
    """The schema's complaints, outermost and first in the file first."""
    import jsonschema

    validator = jsonschema.Draft202012Validator(schema(kind))
    return iter(
        sorted(validator.iter_errors(value), key=lambda e: (len(e.absolute_path), str(e.absolute_path)))
    )


def _unknown_keys(error: Any) -> list[str]:
    """Keys that the block does not know; none after one whose value is broken, which may be why."""
    known = error.schema["properties"]
    unknown = []
    for key, value in error.instance.items():
        if value is None:
            break
        if key not in known:
            unknown.append(key)
    return unknown


def _unknown_key(node: Node, key: str, known: dict[str, object]) -> Diagnostic:
    scalar = node.key(key) if isinstance(node, Mapping) else None
    span = scalar.span if scalar is not None else node.span
    return names.UNKNOWN_KEY.at(span, f"`{key}` is no key of this block", did_you_mean(key, known, "keys"))


def _at(root: Node, path: Path) -> Node:
    node = root
    for step in path:
        if isinstance(node, Mapping) and isinstance(step, str):
            node = node.get(step) or Broken(node.span)
        elif isinstance(node, Sequence) and isinstance(step, int):
            node = node.items[step]
    return node


def _misfit(root: Node, path: Path, node: Node, error: Any) -> Diagnostic:
    """A finding for a value that is not of the shape its place asks for."""
    where = f"`{path[-1]}`" if path and isinstance(path[-1], str) else "this"
    if error.validator == "required":
        missing = ", ".join(f"`{key}`" for key in error.validator_value if key not in error.instance)
        block = where if path else "the file"
        span = _key_span(root, path, node)
        return names.MISSING_KEY.at(span, f"{block} lacks {missing}", f"write it: {_example(error)}")
    if error.validator in ("minItems", "maxItems"):
        count = len(error.instance)
        message = f"{where} has {count} item{'' if count == 1 else 's'}"
        wanted = error.schema.get("minItems")
        exact = "exactly" if error.schema.get("maxItems") == wanted else "at least"
        return names.WRONG_SHAPE.at(node.span, message, f"write {exact} {wanted}")
    wanted = error.schema.get("description") or _WANTED.get(str(error.validator_value), "of another kind")
    shown = _kind_of(node)
    if isinstance(node, Scalar):
        shown = f"`{node.text}`" if node.text.strip() else "an empty text"
    return names.WRONG_SHAPE.at(node.span, f"{shown} is not {wanted}", f"write {wanted} for {where}")


def _example(error: Any) -> str:
    """What to write for the keys that a block lacks."""
    shown = []
    for key in error.validator_value:
        if key not in error.instance:
            shape = error.schema["properties"][key]
            scalar = SCALARS.get(str(shape.get("$ref", "")).rpartition("/")[2], {})
            shown.append(f"`{key}: ...` ({scalar.get('description', 'a list or a block')})")
    return ", ".join(shown)


def _kind_of(node: Node) -> str:
    return "a list" if isinstance(node, Sequence) else "a block"


def _key_span(root: Node, path: Path, node: Node) -> Span:
    """The key of a block that lacks something, or the file's first line."""
    if path and isinstance(path[-1], str):
        parent = _at(root, path[:-1])
        key = parent.key(path[-1]) if isinstance(parent, Mapping) else None
        if key is not None:
            return key.span
    return Span(node.span.path, node.span.line, node.span.column, node.span.line, node.span.column + 1)


def _without(node: Node, path: Path, bad: dict[Path, Span]) -> Node:
    """The tree with broken nodes in place of the bad ones."""
    if path in bad:
        return Broken(node.span)
    if isinstance(node, Mapping):
        entries = tuple((key, _without(value, (*path, key.text), bad)) for key, value in node.entries)
        return Mapping(entries, node.span)
    if isinstance(node, Sequence):
        return Sequence(
            tuple(_without(item, (*path, n), bad) for n, item in enumerate(node.items)), node.span
        )
    return node
