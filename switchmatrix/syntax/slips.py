"""The slips of a person in a hurry: what the YAML parser found, said as what to write instead."""

from __future__ import annotations

import re

import yaml

from switchmatrix.diagnostics import names
from switchmatrix.diagnostics.diagnostic import Diagnostic, Related
from switchmatrix.source import SourceFile, Span
from switchmatrix.syntax.nodes import Node, Scalar

_SPACE = "put a space after the colon: `{}`"
_WHOLE = re.compile("[+-]?[0-9]+")
_QUOTE = 'put the whole text in double quotes: `"..."`'


def key_twice(key: Scalar, first: Scalar) -> Diagnostic:
    """The same key again in one block."""
    help = "keep one of the two: YAML readers disagree on which would count"
    related = (Related(first.span, "first given here"),)
    return names.KEY_TWICE.at(key.span, f"`{key.text}` is given twice", help, related)


def missing(key: Scalar | None, span: Span, *, first: bool, heads_block: bool = False) -> Diagnostic:
    """A key with nothing after it.

    `first` where it is the first of its block, `heads_block` where the next line begins in its column.
    """
    if key is None or not key.text:
        return names.VALUE_MISSING.at(
            span, "there is nothing here", "write a value, or delete the comma or dash"
        )
    head, colon, tail = key.text.partition(":")
    if colon and tail and key.plain:
        message = f"`{key.text}` is one word: there is no space after its colon"
        return names.YAML_SYNTAX.at(key.span, message, _SPACE.format(f"{head}: {tail}"))
    word, _, rest = key.text.partition(" ")
    in_braces = (span.line, span.column) == (key.span.end_line, key.span.end_column)
    if not in_braces:
        help = "write one after the colon, or delete the key"
        if heads_block:
            help = "indent the lines that belong to it, write a value after the colon, or delete the key"
        return names.VALUE_MISSING.at(key.span, f"`{key.text}` has no value", help)
    help = f"write `{word}: {rest}`" if rest else f"write `{key.text}: ...`"
    if first:
        return names.YAML_SYNTAX.at(key.span, f"`{key.text}` has no colon", help)
    message = f"`{key.text}` stands alone after a comma: it has no value"
    return names.VALUE_MISSING.at(
        key.span, message, f"{help}; if it belongs to the text before the comma, {_QUOTE}"
    )


def only_a_comment(key: Scalar) -> Diagnostic:
    """`remark: #4`, where `#` begins a comment."""
    message = f"`{key.text}` has no value: what stands behind `#` is a comment"
    return names.VALUE_MISSING.at(key.span, message, f"write a value; if the `#` belongs to it, {_QUOTE}")


def strange_character(char: str, span: Span) -> Diagnostic:
    """A control character written as an escape."""
    message = f"character U+{ord(char):04X} does not belong in a text"
    return names.NOT_TEXT.at(span, message, "delete it")


def no_colon_before_bracket(key: Scalar) -> Diagnostic | None:
    """`verse {gate: tight}`, which YAML reads as a key `verse {gate`; None where it is not that."""
    if key.plain and ":{" in key.text:
        word, _, rest = key.text.partition(":{")
        message = f"there is no space after the colon of `{word}`"
        return names.YAML_SYNTAX.at(key.span, message, f"write `{word}: {{{rest}: ...}}`")
    word, bracket, rest = key.text.partition(" {")
    if not key.plain or not bracket:
        return None
    word_span = Span(
        key.span.path, key.span.line, key.span.column, key.span.line, key.span.column + len(word)
    )
    message = f"there is no colon after `{word}`"
    return names.YAML_SYNTAX.at(word_span, message, f"write `{word}: {{{rest}: ...}}`")


def decimal_comma(before: Node, key: Scalar) -> Diagnostic | None:
    """`40,5 %` in braces, which YAML reads as `40` and a key `5 %`; None where it is not that."""
    if not isinstance(before, Scalar) or not before.plain or not _WHOLE.fullmatch(before.text):
        return None
    touching = (before.span.end_line, before.span.end_column + 1) == (key.span.line, key.span.column)
    if not touching or not key.text[:1].isdecimal():
        return None
    message = f"`{before.text},{key.text}` has a comma, which ends the value here"
    return names.YAML_SYNTAX.at(before.span.to(key.span), message, f"write `{before.text}.{key.text}`")


def runs_on(scalar: Scalar, file: SourceFile) -> Diagnostic:
    """A value without quotes that runs over several lines."""
    following = file.lines()[scalar.span.line].strip()
    message = f"the value runs on into the next line (`{following[:40]}`)"
    help = f"give the next line its own `key: value`; if the text is meant to be that long, {_QUOTE}"
    return names.YAML_SYNTAX.at(_first_line(scalar.span, file), message, help)


def no_colon(text: str, span: Span, *, heads_block: bool = False) -> Diagnostic:
    """A line that is not `key: value`; `heads_block` where the lines below are indented under it."""
    head, colon, tail = text.partition(":")
    if colon and tail:
        return names.YAML_SYNTAX.at(
            span, "there is no space after the colon", _SPACE.format(f"{head}: {tail}")
        )
    first, _, rest = text.partition(" ")
    help = f"write `{first}: {rest}`" if rest else f"write `{text}: ...`"
    if heads_block:
        help = f"write `{text}:`"
    return names.YAML_SYNTAX.at(span, f"`{text[:60]}` has no colon", help)


def _first_line(span: Span, file: SourceFile) -> Span:
    if span.line == span.end_line:
        return span
    width = len(file.lines()[span.line - 1].rstrip())
    return Span(span.path, span.line, span.column, span.line, max(width + 1, span.column + 1))


def explain(error: yaml.MarkedYAMLError, file: SourceFile, last: Scalar | None, key: str) -> Diagnostic:
    """What a person should see for a text that the YAML parser refuses; `key` is the last one read."""
    problem = str(error.problem or error.context or "")
    mark = error.problem_mark or error.context_mark
    line, column = (mark.line + 1, mark.column + 1) if mark is not None else (1, 1)
    lines = file.lines()
    if line > len(lines):
        line, column = len(lines), len(lines[-1]) + 1
    at = Span(file.path, line, column, line, column + 1)
    opened = at
    if error.context_mark is not None:
        row, col = error.context_mark.line + 1, error.context_mark.column + 1
        opened = Span(file.path, row, col, row, col + 1)
    text = lines[line - 1]
    char = text[column - 1 : column]
    indent = text[: len(text) - len(text.lstrip())]
    if "\t" in indent:
        tab = Span(file.path, line, indent.index("\t") + 1, line, indent.index("\t") + 2)
        message = "the line is indented with a tab"
        return names.YAML_SYNTAX.at(tab, message, "use spaces: set your editor to put spaces for tabs")
    if "document start" in problem:
        help = "keep one document a file: delete the `...`"
        return names.YAML_FEATURE.at(at, "a second document is not used in a show", help)
    if "escape" in problem:
        message = f"`\\{text[column : column + 1]}` means nothing inside double quotes"
        return names.YAML_SYNTAX.at(
            at, message, "put the text in single quotes, or write the backslash twice"
        )
    begins = _begins_a_feature(str(error.context), opened, lines)
    if begins is not None:
        return begins
    if "cannot start any token" in problem:
        return names.YAML_SYNTAX.at(at, f"a value cannot begin with `{char}`", _QUOTE)
    if "quoted scalar" in str(error.context):
        return _open_quote(opened)
    if "expected ',' or" in problem:
        return _in_brackets(opened, at, char, text, file, last, key)
    if "mapping values are not allowed" in problem:
        return _second_colon(at, file, last, key)
    if "expected ':'" in problem:
        below = lines[opened.line] if opened.line < len(lines) else ""
        head = lines[opened.line - 1]
        deeper = len(below) - len(below.lstrip()) > len(head) - len(head.lstrip())
        return no_colon(head.strip(), _text_of(opened, lines), heads_block=deeper and bool(below.strip()))
    return _in_block(problem, at, char, text)


_FEATURES = {"alias": "*", "anchor": "&", "tag": "!", "block scalar": ">|", "directive": "%"}


def _begins_a_feature(context: str, opened: Span, lines: tuple[str, ...]) -> Diagnostic | None:
    """A value that begins with a character which means something else to YAML."""
    chars = next(
        (chars for word, chars in _FEATURES.items() if f"a {word}" in context or f"an {word}" in context), ""
    )
    char = lines[opened.line - 1][opened.column - 1 : opened.column] if opened.line <= len(lines) else ""
    if not char or char not in chars:
        return None
    what = "a line" if char == "%" else "a value"
    return names.YAML_SYNTAX.at(opened, f"{what} cannot begin with `{char}`", _QUOTE)


def _open_quote(opened: Span) -> Diagnostic:
    help = "close it with the same quote; inside single quotes an apostrophe is written twice"
    return names.YAML_SYNTAX.at(opened, "this quote is never closed", help)


def _after_quote(at: Span, quote: str) -> Diagnostic:
    help = "put the whole text inside the quotes"
    if quote == "'":
        help = "inside single quotes write an apostrophe twice, or put the text in double quotes"
    return names.YAML_SYNTAX.at(at, "there is text after the closing quote", help)


def _text_of(at: Span, lines: tuple[str, ...]) -> Span:
    """The text of the line that `at` stands in."""
    text = lines[at.line - 1]
    start = len(text) - len(text.lstrip())
    return Span(at.path, at.line, start + 1, at.line, max(len(text.rstrip()), start + 1) + 1)


def _in_brackets(
    opened: Span, at: Span, char: str, text: str, file: SourceFile, last: Scalar | None, key: str
) -> Diagnostic:
    """Between brackets the parser met something other than a comma or the closing bracket."""
    lines = file.lines()
    bracket = lines[opened.line - 1][opened.column - 1 : opened.column]
    closing = {"{": "}", "[": "]"}.get(bracket, bracket)
    before = text[: at.column - 1].rstrip()[-1:]
    if last is not None and not last.plain and last.span.line < last.span.end_line == at.line:
        return _open_quote(
            Span(at.path, last.span.line, last.span.column, last.span.line, last.span.column + 1)
        )
    same_line = last is not None and last.span.line == last.span.end_line == at.line == opened.line
    comma = _missing_comma(char, text, at, last, key)
    if comma is not None:
        return comma
    if same_line and char == ":":
        return _colon_in_value(at, last, key)
    if same_line and last is not None and not last.plain and before in "'\"":
        return _after_quote(at, before)
    if same_line and char == "'":
        return names.YAML_SYNTAX.at(at, "a quote stands in the middle of a text", _QUOTE)
    here = lines[opened.line - 1][opened.column - 1 :]
    if char and opened.line == at.line and char in "]}" and text.count(char) > text.count(_OPENING[char]):
        return names.YAML_SYNTAX.at(
            at, f"`{char}` does not belong here", f"delete it, or write the missing `{_OPENING[char]}`"
        )
    hidden = here.find(" #")
    if hidden >= 0 and closing in here[hidden:]:
        column = opened.column + hidden + 1
        hash = Span(at.path, opened.line, column, opened.line, column + 1)
        message = f"`#` after a space begins a comment, so `{closing}` is not read"
        return names.YAML_SYNTAX.at(hash, message, _QUOTE)
    message = f"`{bracket}` is never closed"
    related = () if at.line > len(lines) else (Related(at, "noticed here"),)
    return names.YAML_SYNTAX.at(opened, message, f"write the missing `{closing}`", related)


_OPENING = {"]": "[", "}": "{"}


def _missing_comma(char: str, text: str, at: Span, last: Scalar | None, key: str) -> Diagnostic | None:
    """`{at: bar 81 like: intro}`, and a line's end without its comma where the bracket is closed below."""
    if char != ":" or last is None or not last.plain or key in _TEXT_KEYS:
        return None
    before, space, word = last.text.rpartition(" ")
    rest = text[at.column :]
    closes = min((n for n in (rest.find("}"), rest.find("]")) if n >= 0), default=-1)
    opens = min((n for n in (rest.find("{"), rest.find("[")) if n >= 0), default=len(rest))
    touching = text[: at.column - 1].endswith(word)
    if not space or not before or not touching or (last.span.line != at.line and not 0 <= closes < opens):
        return None
    span = Span(at.path, at.line, at.column - len(word), at.line, at.column)
    return names.YAML_SYNTAX.at(span, f"a comma is missing before `{word}`", f"write `{before}, {word}: ...`")


_TEXT_KEYS = ("remark", "song", "show", "rig", "definition", "tuning", "hazard", "out", "in")
"""Keys whose values are free text."""


def _colon_in_value(at: Span, last: Scalar | None, key: str) -> Diagnostic:
    span = last.span if last is not None else at
    message = "there is a second colon in this line"
    help = f"if the colon belongs to the text, {_QUOTE}"
    if key not in _TEXT_KEYS:
        help = f"put the lines of `{key}` in braces; {help}"
    return names.YAML_SYNTAX.at(span.to(at), message, help)


def _second_colon(at: Span, file: SourceFile, last: Scalar | None, key: str) -> Diagnostic:
    if last is None or last.span.end_line != at.line or last.span.line == at.line:
        return _colon_in_value(at, last if last is not None and last.span.line == at.line else None, key)
    lines = file.lines()
    first = _first_line(last.span, file)
    if lines[first.line - 1][: first.column - 1].strip():
        message = "this line is indented deeper than the line above, which has its value already"
        help = "line it up with the key above"
        related = (Related(first, "the value above"),)
        return names.YAML_SYNTAX.at(_text_of(at, lines), message, help, related)
    return no_colon(lines[first.line - 1].strip(), first)


def _in_block(problem: str, at: Span, char: str, text: str) -> Diagnostic:
    before = text[: at.column - 1].rstrip()[-1:]
    if "block sequence entries" in problem:
        rest = text[at.column :].strip()
        if rest[:1].isdecimal():
            message = "there is a space between the minus and the number"
            return names.YAML_SYNTAX.at(at, message, f"write `-{rest}`")
        help = "put it in brackets: `[one, two]`"
        return names.YAML_SYNTAX.at(at, "a list with dashes cannot begin here", help)
    if "expected key" in problem and before and before in "'\"":
        return _after_quote(at, before)
    if "expected key" in problem and char == "-":
        help = "take the dash away, or put the list in brackets: `[one, two]`"
        return names.YAML_SYNTAX.at(at, "a list with dashes cannot begin here", help)
    if not char and "node content" in problem:
        help = "write the value, and close what is open"
        return names.YAML_SYNTAX.at(at, "the file ends where a value should stand", help)
    if "node content" in problem or char in ("}", "]", ","):
        return names.YAML_SYNTAX.at(
            at, f"`{char}` does not belong here", "delete it, or write what goes before it"
        )
    message = "this line does not line up with the lines above"
    help = "begin it in the same column as the lines that it belongs with"
    return names.YAML_SYNTAX.at(at, message, help)
