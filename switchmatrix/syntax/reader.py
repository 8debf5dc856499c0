"""YAML text to nodes, built from the parser's events: no types guessed, nothing lost, every place kept."""

from __future__ import annotations

from typing import Any

import yaml
from yaml.events import (
    AliasEvent,
    DocumentStartEvent,
    MappingEndEvent,
    MappingStartEvent,
    ScalarEvent,
    SequenceEndEvent,
    SequenceStartEvent,
    StreamEndEvent,
)

from switchmatrix.diagnostics import names
from switchmatrix.diagnostics.diagnostic import Diagnostic
from switchmatrix.source import SourceFile, Span, whole_file
from switchmatrix.syntax import slips
from switchmatrix.syntax.nodes import Broken, Mapping, Node, Scalar, Sequence

MOST_DEEP = 24
"""The deepest nesting that is read; a show's own files need nine."""

_PARSER: Any = yaml.CLoader if yaml.__with_libyaml__ else yaml.SafeLoader


def read(file: SourceFile) -> tuple[Node, list[Diagnostic]]:
    """The file's root node (Broken where the text is no YAML of ours) and what is wrong with it."""
    builder = _Builder(file)
    parser = _PARSER(file.text)
    try:
        root = builder.build(parser)
    except yaml.MarkedYAMLError as error:
        wrong = _too_deep(error, file, builder.blocks()) or slips.explain(
            error, file, builder.last, builder.key
        )
        said = builder.last.span.line if builder.last is not None else 0
        builder.found = [d for d in builder.found if d.span < wrong.span and d.span.line != said]
        builder.found.append(wrong)
        root = Broken(Span(file.path, 1, 1, 1, 1))
    except yaml.YAMLError as error:
        span = Span(file.path, 1, 1, 1, 1)
        builder.found.append(names.YAML_SYNTAX.at(span, f"this is no YAML: {error}".split("\n")[0]))
        root = Broken(span)
    finally:
        parser.dispose()
    return root, builder.found


def _too_deep(error: yaml.MarkedYAMLError, file: SourceFile, blocks: int) -> Diagnostic | None:
    """Brackets past the bound, which the parser stumbles over before it gives the first; inside `blocks`."""
    mark = error.problem_mark or error.context_mark
    if mark is None:
        return None
    depth = blocks
    for number, line in enumerate(file.lines()[: mark.line + 1], 1):
        for column, char in enumerate(line, 1):
            depth += (char in "[{") - (char in "]}")
            if depth > MOST_DEEP:
                return _deep(Span(file.path, number, column, number, column + 1))
    return None


def _empty(path: str) -> Diagnostic:
    return names.VALUE_MISSING.at(whole_file(path), "the file is empty", "write it, or delete it")


def _deep(span: Span) -> Diagnostic:
    message = f"brackets or indents are nested deeper than {MOST_DEEP}"
    return names.TOO_LARGE.at(span, message, "delete the brackets or dashes too many")


class _Open:
    """A collection whose end has not come."""

    __slots__ = ("broken", "event", "items", "key", "seen")

    def __init__(self, event: Any) -> None:
        self.event = event
        self.items: list[Any] = []
        self.key: Scalar | None = None
        self.seen: dict[str, Scalar] = {}
        self.broken = False


class _Builder:
    """Turns one stream of events into one node."""

    def __init__(self, file: SourceFile) -> None:
        self.file = file
        self.path = file.path
        self.found: list[Diagnostic] = []
        self.last: Scalar | None = None
        self.key = ""
        self.stack: list[_Open] = []
        self.anchored = False

    def blocks(self) -> int:
        """How many blocks without brackets are open."""
        return sum(not opened.event.flow_style for opened in self.stack)

    def build(self, parser: Any) -> Node:
        """The root node of the parser's events."""
        stack = self.stack
        root: Node | None = None
        while True:
            event = parser.get_event()
            kind = type(event)
            if kind is ScalarEvent:
                node: Node = self._scalar(event, stack)
            elif kind is MappingStartEvent or kind is SequenceStartEvent:
                self._feature(event)
                if len(stack) == MOST_DEEP:
                    self.found.append(_deep(self._span(event)))
                    return Broken(self._span(event))
                stack.append(_Open(event))
                continue
            elif kind is MappingEndEvent or kind is SequenceEndEvent:
                node = self._closed(stack.pop(), event)
            elif kind is AliasEvent:
                merging = bool(stack) and stack[-1].key is not None and stack[-1].key.text == "<<"
                if not self.anchored and not merging:
                    self._refuse(event, "an alias", "name a scene with `like`, or write the lines out")
                node = Broken(self._span(event))
            elif kind is StreamEndEvent:
                return self._document(root)
            else:
                if kind is DocumentStartEvent and root is not None:
                    self._refuse(event, "a second document", "keep one document a file: delete this `---`")
                    return self._document(root)
                continue
            if stack:
                self._put(stack[-1], node)
            elif root is None:
                root = node

    def _document(self, root: Node | None) -> Node:
        """The root, which must be lines of `key: value`."""
        if isinstance(root, Mapping):
            return root
        if isinstance(root, Broken):
            if not self.found:
                first = Span(self.path, 1, 1, 1, 1)
                self.found.append(
                    names.VALUE_MISSING.at(first, "the file is empty", "write it, or delete it")
                )
            return root
        span = Span(self.path, 1, 1, 1, 1) if root is None else root.span
        if isinstance(root, Scalar) and root.text:
            self.found.append(slips.no_colon(root.text, root.span))
        elif root is None or isinstance(root, Scalar):
            self.found.append(_empty(self.path))
        else:
            message = "the file is a list; it should be lines of `key: value`"
            self.found.append(names.WRONG_SHAPE.at(span, message, "take the dashes or brackets away"))
        return Broken(span)

    def _span(self, event: Any) -> Span:
        start, end = event.start_mark, event.end_mark
        return Span(self.path, start.line + 1, start.column + 1, end.line + 1, end.column + 1)

    def _refuse(self, event: Any, what: str, help: str) -> None:
        self.found.append(names.YAML_FEATURE.at(self._span(event), f"{what} is not used in a show", help))

    def _feature(self, event: Any) -> bool:
        """Refuse an anchor or a tag; whether there was one."""
        if event.anchor is not None:
            self._refuse(event, f"an anchor (`&{event.anchor}`)", "name a scene with `like` instead")
            self.anchored = True
        elif event.tag is not None:
            tag = event.tag.replace("tag:yaml.org,2002:", "!!")
            self._refuse(event, f"a tag (`{tag}`)", "write the bare value: its place says its type")
        else:
            return False
        return True

    def _scalar(self, event: Any, stack: list[_Open]) -> Node:
        span = self._span(event)
        if (event.anchor is not None or event.tag is not None) and self._feature(event):
            return Broken(span)
        plain = not event.style
        node = Scalar(event.value, span, plain)
        if event.style == '"' and not event.value.isprintable():
            strange = next((c for c in event.value if not c.isprintable() and c not in "\n\t"), None)
            if strange is not None:
                self.found.append(slips.strange_character(strange, span))
                return Broken(span)
        awaits_value = bool(stack) and stack[-1].key is not None
        if plain and not event.value:
            if awaits_value and stack[-1].broken:
                return Broken(span)
            return self._missing(stack[-1] if stack else None, span)
        self.last = node
        if plain and span.line != span.end_line:
            self.found.append(slips.runs_on(node, self.file))
            return Broken(span)
        return node

    def _missing(self, parent: _Open | None, span: Span) -> Node:
        """Nothing where a value should be. What was meant is put in its place where that is plain to see."""
        key = parent.key if parent is not None else None
        if parent is None or key is None:
            if parent is not None or len(self.found):
                self.found.append(slips.missing(None, span, first=True))
            return Broken(span)
        before = parent.items[-1] if parent.items else None
        comma = slips.decimal_comma(before[1], key) if isinstance(before, tuple) else None
        if comma is not None and isinstance(before, tuple):
            parent.items[-1] = (before[0], Broken(before[1].span))
            parent.broken = True
            self.found.append(comma)
            return Broken(span)
        lines = self.file.lines()
        below = lines[key.span.end_line] if key.span.end_line < len(lines) else ""
        heads = bool(below.strip()) and len(below) - len(below.lstrip()) == key.span.column - 1
        line = lines[key.span.line - 1] if key.span.line <= len(lines) else ""
        if line[key.span.end_column - 1 :].removeprefix(":").lstrip().startswith("#"):
            self.found.append(slips.only_a_comment(key))
        else:
            self.found.append(slips.missing(key, span, first=not parent.items, heads_block=heads))
        head, colon, tail = key.text.partition(":")
        if key.plain and colon and tail:
            parent.key = Scalar(head, key.span)
            return Scalar(tail, key.span)
        parent.key = Scalar(key.text.split(" ")[0], key.span, key.plain)
        return Broken(span)

    def _put(self, parent: _Open, node: Node) -> None:
        if type(parent.event) is SequenceStartEvent:
            parent.items.append(node)
        elif parent.key is None:
            self._put_key(parent, node)
        else:
            if not parent.broken:
                parent.items.append((parent.key, node))
            parent.key, parent.broken = None, False

    def _put_key(self, parent: _Open, node: Node) -> None:
        if not isinstance(node, Scalar):
            if not isinstance(node, Broken):
                message = "a key must be a name, not a list or a block"
                self.found.append(names.WRONG_SHAPE.at(node.span, message, "write `name: value`"))
            parent.key, parent.broken = Scalar("", node.span), True
            return
        parent.key = node
        self.key = node.text
        glued = slips.no_colon_before_bracket(node)
        if glued is not None:
            self.found.append(glued)
            parent.key = Scalar(node.text.split(" ")[0], node.span)
            parent.items.append((parent.key, Broken(node.span)))
            parent.broken = True
        elif node.text == "<<":
            if not self.anchored:
                message = "a merge key is not used in a show"
                self.found.append(names.YAML_FEATURE.at(node.span, message, "use `like` instead"))
            parent.broken = True
        elif node.text in parent.seen:
            self.found.append(slips.key_twice(node, parent.seen[node.text]))
            parent.broken = True
        else:
            parent.seen[node.text] = node

    def _closed(self, opened: _Open, event: Any) -> Node:
        """The finished collection; in block style its end is that of its last child."""
        start = self._span(opened.event)
        if opened.event.flow_style:
            end = self._span(event)
        elif not opened.items:
            end = start
        else:
            last = opened.items[-1]
            end = (last[1] if isinstance(last, tuple) else last).span
        span = start.to(end)
        if type(opened.event) is SequenceStartEvent:
            return Sequence(tuple(opened.items), span)
        # A key that was put right may be there once more: what stands as written counts.
        once = {item[0].text: item for item in opened.items if isinstance(item, tuple)}
        return Mapping(tuple(once.values()), span)
