"""Definitions from text, through the reader, the shapes and the binder, with no show round them."""

from __future__ import annotations

from switchmatrix.bind.definitions import bind_definition
from switchmatrix.controls import Wire, messages
from switchmatrix.definition.controls import Control
from switchmatrix.definition.definition import Definition
from switchmatrix.definition.programs import BankSelect, Programs
from switchmatrix.diagnostics.diagnostic import Diagnostic, merged
from switchmatrix.diagnostics.lines import render
from switchmatrix.midi.messages import encode
from switchmatrix.midi.numbers import ChannelNumber, wire_channel
from switchmatrix.source import SourceFile
from switchmatrix.syntax.reader import read
from switchmatrix.syntax.shape import check_shape

PATH = "box.yaml"


def bound(text: str) -> tuple[Definition | None, list[Diagnostic]]:
    """The definition that the text says, and its findings in order."""
    root, found = read(SourceFile(PATH, text))
    root, misfits = check_shape(root, "definition")
    found += misfits
    definition = bind_definition("box", root, found)
    return definition, merged(found, {})


def defined(text: str) -> Definition:
    """The definition of a text with nothing wrong in it."""
    definition, found = bound(text)
    assert definition is not None
    assert render(found) == ""
    return definition


def programs(text: str) -> Programs:
    """The programs of a sound definition, from what stands in the braces of `programs: {...}`."""
    made = defined(f"definition: box\nprograms: {{{text}}}\n").programs
    assert made is not None
    return made


def control(text: str, programs: str = "") -> Control:
    """The control `it` of a sound definition, from what stands in its braces (and in those of `programs`)."""
    made = defined(_box(text, programs)).control("it")
    assert made is not None
    return made


def told(text: str, programs: str = "") -> list[str]:
    """Each finding on a control `it`, as `line:column: severity name: message`; the control is on line 2."""
    return findings(_box(text, programs))


def findings(text: str) -> list[str]:
    """Each finding of a definition, as `line:column: severity name: message`."""
    return [line.removeprefix(f"{PATH}:") for line in render(bound(text)[1]).splitlines()]


def _box(text: str, programs: str) -> str:
    more = f"programs: {{{programs}}}\n" if programs else ""
    return f"definition: box\ncontrols: {{it: {{{text}}}}}\n{more}"


def sent(
    made: Control,
    code: int,
    *,
    id: int | None = None,
    was: int | None = None,
    bank: BankSelect | None = None,
) -> str:
    """The bytes that carry the code on channel 2, in hex."""
    wire = Wire(wire_channel(ChannelNumber(2)), id, was, bank)
    return b"".join(encode(message) for message in messages(made, code, wire)).hex(" ").upper()
