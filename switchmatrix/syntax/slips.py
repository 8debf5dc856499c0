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


def missing(key: Scalar | None, span: Span) -> Diagnostic:
    """A key with nothing after it."""
    if key is None or not key.text:
        return names.VALUE_MISSING.at(
            span, "there is nothing here", "write a value, or delete the comma or dash"
        )
    head, colon, tail = key.text.partition(":")
    if colon and tail and key.plain:
        message = f"`{key.text}` is one word: there is no space after its colon"
        return names.YAML_SYNTAX.at(key.span, message, _SPACE.format(f"{head}: {tail}"))
    if span == Span(span.path, key.span.end_line, key.span.end_column, span.line, span.column):
        message = f"`{key.text}` stands alone after a comma: it has no value"
        help = f"write `{key.text}: ...`; if it belongs to the text before the comma, {_QUOTE}"
        return names.VALUE_MISSING.at(key.span, message, help)
    return names.VALUE_MISSING.at(
        key.span, f"`{key.text}` has no value", "write one after the colon, or delete the key"
    )


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


def no_colon(text: str, span: Span) -> Diagnostic:
    """A line that is not `key: value`."""
    head, colon, tail = text.partition(":")
    if colon and tail:
        return names.YAML_SYNTAX.at(
            span, "there is no space after the colon", _SPACE.format(f"{head}: {tail}")
        )
    first, _, rest = text.partition(" ")
    help = f"write `{first}: {rest}`" if rest else f"write `{text}: ...`"
    return names.YAML_SYNTAX.at(span, f"`{text[:60]}` has no colon", help)


def _first_line(span: Span, file: SourceFile) -> Span:
    if span.line == span.end_line:
        return span
    width = len(file.lines()[span.line - 1].rstrip())
    return Span(span.path, span.line, span.column, span.line, max(width + 1, span.column + 1))


def explain(error: yaml.MarkedYAMLError, file: SourceFile, last: Scalar | None) -> Diagnostic:
    """What a person should see for a text that the YAML parser refuses."""
    problem = str(error.problem or error.context or "")
    mark = error.problem_mark or error.context_mark
    line, column = (mark.line + 1, mark.column + 1) if mark is not None else (1, 1)
    at = Span(file.path, line, column, line, column + 1)
    opened = at
    if error.context_mark is not None:
        row, col = error.context_mark.line + 1, error.context_mark.column + 1
        opened = Span(file.path, row, col, row, col + 1)
    lines = file.lines()
    text = lines[line - 1] if line <= len(lines) else ""
    char = text[column - 1 : column]
    if "cannot start any token" in problem:
        return _bad_character(char, text, at)
    if "quoted scalar" in str(error.context):
        help = "close it with the same quote; inside single quotes an apostrophe is written twice"
        return names.YAML_SYNTAX.at(opened, "this quote is never closed", help)
    if "expected ',' or" in problem:
        return _in_brackets(opened, at, char, text, file, last)
    if "mapping values are not allowed" in problem:
        return _second_colon(at, file, last)
    if "expected ':'" in problem:
        return no_colon(lines[opened.line - 1].strip(), _text_of(opened, lines))
    return _in_block(problem, at, char, text)


def _text_of(at: Span, lines: list[str]) -> Span:
    """The text of the line that `at` stands in."""
    text = lines[at.line - 1]
    start = len(text) - len(text.lstrip())
    return Span(at.path, at.line, start + 1, at.line, max(len(text.rstrip()), start + 1) + 1)


def _bad_character(char: str, text: str, at: Span) -> Diagnostic:
    tab = text.find("\t")
    if char == "\t" or (tab >= 0 and not text[:tab].strip()):
        at = Span(at.path, at.line, tab + 1, at.line, tab + 2) if tab >= 0 else at
        message = "the line is indented with a tab"
        return names.YAML_SYNTAX.at(at, message, "use spaces: set your editor to put spaces for tabs")
    message = f"a value cannot begin with `{char}`"
    return names.YAML_SYNTAX.at(at, message, _QUOTE)


def _in_brackets(
    opened: Span, at: Span, char: str, text: str, file: SourceFile, last: Scalar | None
) -> Diagnostic:
    """Between brackets the parser met something other than a comma or the closing bracket."""
    lines = file.lines()
    bracket = lines[opened.line - 1][opened.column - 1 : opened.column]
    closing = {"{": "}", "[": "]"}.get(bracket, bracket)
    before = text[: at.column - 1].rstrip()[-1:]
    same_line = last is not None and last.span.line == last.span.end_line == at.line == opened.line
    if same_line and char == ":":
        return _colon_in_value(at, last)
    if same_line and last is not None and not last.plain and before in "'\"":
        help = "inside single quotes write an apostrophe twice, or put the text in double quotes"
        return names.YAML_SYNTAX.at(at, "there is text after the closing quote", help)
    if same_line and char == "'":
        return names.YAML_SYNTAX.at(at, "a quote stands in the middle of a text", _QUOTE)
    message = f"`{bracket}` is never closed"
    related = () if at.line > len(lines) else (Related(at, "noticed here"),)
    return names.YAML_SYNTAX.at(opened, message, f"write the missing `{closing}`", related)


def _colon_in_value(at: Span, last: Scalar | None) -> Diagnostic:
    span = last.span if last is not None else at
    message = "there is a second colon in this line"
    return names.YAML_SYNTAX.at(span.to(at), message, f"if the colon belongs to the text, {_QUOTE}")


def _second_colon(at: Span, file: SourceFile, last: Scalar | None) -> Diagnostic:
    if last is None or last.span.end_line != at.line or last.span.line == at.line:
        return _colon_in_value(at, last if last is not None and last.span.line == at.line else None)
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
        return names.YAML_SYNTAX.at(
            at, "a list with dashes cannot begin here", "put it in brackets: `[one, two]`"
        )
    if "expected key" in problem and before and before in "'\"":
        help = "inside single quotes write an apostrophe twice, or put the text in double quotes"
        return names.YAML_SYNTAX.at(at, "there is text after the closing quote", help)
    if "node content" in problem or char in ("}", "]", ","):
        return names.YAML_SYNTAX.at(
            at, f"`{char}` does not belong here", "delete it, or write what goes before it"
        )
    message = "this line does not line up with the lines above"
    help = "begin it in the same column as the lines that it belongs with"
    return names.YAML_SYNTAX.at(at, message, help)
