"""The lines of a block made single, each with what it stands for on one rig."""

from __future__ import annotations

from collections.abc import Iterable

from switchmatrix.bind import values
from switchmatrix.bind.fields import scalars, whole
from switchmatrix.bind.scope import Scope
from switchmatrix.definition.values import Word
from switchmatrix.diagnostics import names
from switchmatrix.diagnostics.diagnostic import Diagnostic
from switchmatrix.diagnostics.nearest import did_you_mean, nearest
from switchmatrix.model.rig import DoneWithout, Entry, Passed, Words
from switchmatrix.model.settings import (
    PATCH,
    AtHome,
    Block,
    Chosen,
    Left,
    Line,
    Meaning,
    Said,
    Setting,
    Target,
)
from switchmatrix.syntax.nodes import Broken, Mapping, Node, Scalar

Pairs = Iterable[tuple[Scalar, Node]]


def bind_lines(
    scope: Scope,
    pairs: Pairs,
    found: list[Diagnostic],
    *,
    words: bool = True,
    own_keys: tuple[str, ...] = (),
) -> Block:
    """Each single name of the block once; `words` False where only outright lines may stand.

    `own_keys` are the block's keys that are no lines, so that a misspelt one is known for what it is.

    `echo: cliff` is `echo.patch` and `echo.engage`; a dotted line, being narrower, beats those.
    """
    broad: dict[str, Line] = {}
    narrow: dict[str, Line] = {}
    for key, node in pairs:
        if isinstance(node, Broken):
            continue
        if "." in key.text:
            line = _dotted(scope, key, node, found)
            if line is not None:
                narrow[line.name] = line
        elif words and key.text in scope.entries:
            line = _entry(scope, key, node, found)
            if line is not None:
                narrow[line.name] = line
        elif scope.known(key.text):
            broad.update((line.name, line) for line in _device(scope, key, node, found))
        else:
            found.append(_unknown(scope, key, words, own_keys))
    return tuple({**broad, **narrow}.values())


def _unknown(scope: Scope, key: Scalar, words: bool, own_keys: tuple[str, ...]) -> Diagnostic:
    known = [*(scope.entries if words else ()), *scope.devices, *scope.absents]
    if nearest(key.text, known) is None and nearest(key.text, own_keys) is not None:
        known = list(own_keys)
    if not words and key.text in scope.entries:
        message = f"`{key.text}` is an entry; only devices and controls are named here"
        help = "name the controls that it stands for: a word holds no other word"
        return names.UNKNOWN_NAME.at(key.span, message, help)
    what = "entry, device or control" if words else "device or control"
    help = did_you_mean(key.text, known, "entries and devices" if words else "devices")
    return names.UNKNOWN_NAME.at(key.span, f"nothing is called `{key.text}`: no {what}", help)


def _line(target: Target, meaning: Meaning, key: Scalar, text: str) -> Line:
    return Line(str(target), (Setting(target, meaning, key.span),), False, text, key.span)


def _dotted(scope: Scope, key: Scalar, node: Node, found: list[Diagnostic]) -> Line | None:
    target = scope.target(key, found)
    if target is None:
        return None
    if not isinstance(node, Scalar):
        help = "write one value; a block of lines goes under the device's name"
        found.append(names.WRONG_SHAPE.at(node.span, f"`{key.text}` takes one value", help))
        return None
    meaning = _value(scope, target, node, found)
    return None if meaning is None else _line(target, meaning, key, node.text)


def _value(scope: Scope, target: Target, scalar: Scalar, found: list[Diagnostic]) -> Meaning | None:
    if target.control == PATCH:
        return _patch(scope, target, scalar, found)
    return values.meaning(scope, target, scalar, found)


def _patch(
    scope: Scope, target: Target, scalar: Scalar, found: list[Diagnostic], *, engages: bool = False
) -> Meaning | None:
    """The patch of that name; `home` and (in the player's hands) `leave` may stand for one."""
    text, span = scalar.text, scalar.span
    if text == "home":
        return AtHome()
    if text == "leave" and target in scope.hands:
        return Left()
    device = scope.devices.get(target.device)
    if device is not None:
        patch = device.patch(text)
        if patch is not None:
            return Chosen(patch)
        broken, known = device.broken, [p.name for p in device.patches]
    else:
        patches = scope.absent_patches.get(target.device)
        if patches is None or text in patches:
            return Said(Word(text))
        broken, known = frozenset(), list(patches)
    if text not in broken:
        message = f"`{target.device}` has no patch `{text}`"
        help = did_you_mean(text, known, f"patches of `{target.device}`")
        if engages:
            help = did_you_mean(text, [*known, "on", "off"], f"values of `{target.device}`")
        found.append(names.MISSING_PATCH.at(span, message, help))
    return None


def _device(scope: Scope, key: Scalar, node: Node, found: list[Diagnostic]) -> list[Line]:
    """`echo: on`, `echo: cliff`, `echo: {mix: 40 %, loops: [1, 3]}`."""
    if scope.definition(key.text) is None:
        return []
    if isinstance(node, Scalar):
        return _device_scalar(scope, key, node, found)
    lines: list[Line] = []
    for inner, value in node.entries if isinstance(node, Mapping) else ():
        if isinstance(value, Broken):
            continue
        if inner.text == "loops":
            lines = [*_loops(scope, key, inner, value, found), *lines]
            continue
        definition = scope.definition(key.text)
        if definition is None or not scope.has(definition, key.text, inner.text, inner, found):
            continue
        target = Target(key.text, inner.text)
        if not isinstance(value, Scalar):
            help = "a list goes with `loops` only"
            found.append(names.WRONG_SHAPE.at(value.span, f"`{inner.text}` takes one value", help))
            continue
        meaning = _value(scope, target, value, found)
        if meaning is not None:
            lines.append(_line(target, meaning, inner, value.text))
    return lines


def _device_scalar(scope: Scope, key: Scalar, node: Scalar, found: list[Diagnostic]) -> list[Line]:
    text = node.text
    if text in ("on", "off"):
        main = scope.main(key.text, key, found)
        meaning = values.meaning(scope, main, node, found) if main is not None else None
        return [] if main is None or meaning is None else [_line(main, meaning, key, text)]
    if text in ("home", "leave", "as stored"):
        message = f"`{text}` is not for a whole device"
        help = f"name the control: `{key.text}.CONTROL: {text}`"
        found.append(names.BAD_VALUE.at(node.span, message, help))
        return []
    definition = scope.definition(key.text)
    if definition is not None and definition.programs is None:
        if PATCH in definition.broken:
            return []
        takes = (
            "it takes `on` or `off`" if definition.main is not None else "it takes a block of its controls"
        )
        message = f"`{key.text}` has no programs: {takes}"
        control = definition.controls[0].name if definition.controls else "CONTROL"
        help = f"to set a control, name it: `{key.text}.{control}: {text}`"
        found.append(names.BAD_VALUE.at(node.span, message, help))
        return []
    target = Target(key.text, PATCH)
    engages = definition is not None and definition.main is not None
    meaning = _patch(scope, target, node, found, engages=engages)
    if meaning is None:
        return []
    lines = [_line(target, meaning, key, text)]
    if definition is not None and definition.main is not None:
        main = Target(key.text, definition.main.name)
        on = values.meaning(scope, main, Scalar("on", node.span), found)
        lines += [_line(main, on, key, text)] if on is not None else []
    return lines


def _loops(scope: Scope, key: Scalar, inner: Scalar, node: Node, found: list[Diagnostic]) -> list[Line]:
    """`loops: [1, 3]` sets every loop of the box."""
    definition = scope.definition(key.text)
    loops = definition.loops if definition is not None else ()
    if definition is not None and any(label.startswith("loop-") for label in definition.broken):
        return []
    if not loops:
        if definition is not None and not definition.broken:
            message = f"`{key.text}` has no loops"
            found.append(names.UNKNOWN_NAME.at(inner.span, message, "name one of its controls"))
        return []
    if isinstance(node, Scalar):
        message = f"`{node.text}` is no list of loops"
        found.append(names.WRONG_SHAPE.at(node.span, message, "write it like `loops: [1, 3]`"))
        return []
    wanted = [whole(scalar, 1, len(loops), "the loop", found) for scalar in scalars(node)]
    if None in wanted:
        return []
    lines = []
    for control in loops:
        word = "on" if control.loop in wanted else "off"
        target = Target(key.text, control.name)
        meaning = values.meaning(scope, target, Scalar(word, inner.span), found)
        if meaning is not None:
            lines.append(_line(target, meaning, inner, word))
    return lines


def _entry(scope: Scope, key: Scalar, node: Node, found: list[Diagnostic]) -> Line | None:
    """`gate: tight`: the word's settings under the entry's name."""
    entry = scope.entries[key.text]
    if entry is None:
        return None
    if not isinstance(node, Scalar):
        message = f"`{key.text}` is an entry: it takes one of its words"
        found.append(names.WRONG_SHAPE.at(node.span, message, "a block of lines goes under a device's name"))
        return None
    settings = _stands_for(scope, entry, node, found)
    return None if settings is None else Line(entry.name, settings, True, node.text, key.span)


def _stands_for(
    scope: Scope, entry: Entry, node: Scalar, found: list[Diagnostic]
) -> tuple[Setting, ...] | None:
    match entry.stands_for:
        case DoneWithout():
            return ()
        case Passed(target):
            if node.text == "home" and target.control != PATCH:
                message = "`home` is not for an entry"
                help = f"write `{target}: home`"
                found.append(names.BAD_VALUE.at(node.span, message, help))
                return None
            meaning = _value(scope, target, node, found)
            return None if meaning is None else (Setting(target, meaning, node.span),)
        case Words(words):
            by_word = dict(words)
            if node.text in by_word:
                return by_word[node.text]
            message = f"`{entry.name}` has no word `{node.text}`"
            help = did_you_mean(node.text, by_word, f"words of `{entry.name}`")
            found.append(names.UNKNOWN_WORD.at(node.span, message, help))
            return None


def settings_of(block: Block) -> tuple[Setting, ...]:
    """The settings of outright lines, as a word or a row of a table brings them."""
    return tuple(setting for line in block for setting in line.settings)
