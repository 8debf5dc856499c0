"""A rig's vocabulary: entries with their words, the translations of absent devices, joint tables."""

from __future__ import annotations

from switchmatrix.bind.fields import Fields, scalars
from switchmatrix.bind.lines import bind_lines, settings_of
from switchmatrix.bind.naming import VALUE_WORDS, name
from switchmatrix.bind.scope import Scope
from switchmatrix.bind.values import misread_at
from switchmatrix.controls import read
from switchmatrix.definition.values import Misread, Word
from switchmatrix.diagnostics import names
from switchmatrix.diagnostics.diagnostic import Diagnostic
from switchmatrix.diagnostics.nearest import did_you_mean
from switchmatrix.model.rig import DoneWithout, Entry, Joint, Passed, Row, Words
from switchmatrix.model.settings import PATCH, Meaning, Said, Setting, Target
from switchmatrix.syntax.nodes import Broken, Mapping, Node, Scalar

Translations = dict[Target, Words | Passed | DoneWithout]
_NOTHING = "nothing"


def is_translation(scope: Scope, key: str) -> bool:
    """Whether a vocabulary key says how an absent device's name is translated."""
    return "." in key or key in scope.absents


def absent_patches(scope: Scope, fields: Fields) -> dict[str, tuple[str, ...] | None]:
    """The patch names that each absent device's translation gives; None where any name will do."""
    patches: dict[str, tuple[str, ...] | None] = dict.fromkeys(scope.absents)
    for key, node in fields.each("vocabulary"):
        device, _, control = key.text.partition(".")
        if device not in scope.absents or control != PATCH:
            continue
        if isinstance(node, Mapping):
            patches[device] = tuple(word.text for word, _ in node.entries)
        elif isinstance(node, Scalar):
            own = scope.devices.get(node.text.partition(".")[0])
            patches[device] = tuple(p.name for p in own.patches) if own is not None else None
    return patches


def bind_entries(scope: Scope, fields: Fields, found: list[Diagnostic]) -> None:
    """Every entry of the vocabulary, put into the scope; None for a broken one."""
    for key, node in fields.each("vocabulary"):
        if is_translation(scope, key.text):
            continue
        if name(key, "an entry", found) is None:
            scope.entries[key.text] = None
            continue
        if key.text in scope.devices:
            message = f"`{key.text}` is a device; an entry needs a name of its own"
            found.append(names.BAD_NAME.at(key.span, message, "rename the entry"))
            continue
        stands_for = _entry(scope, node, found)
        scope.entries[key.text] = None if stands_for is None else Entry(key.text, stands_for, key.span)


def _entry(scope: Scope, node: Node, found: list[Diagnostic]) -> Words | Passed | DoneWithout | None:
    if isinstance(node, Scalar):
        if node.text == _NOTHING:
            return DoneWithout()
        target = scope.target(node, found)
        return None if target is None else Passed(target)
    return _words(scope, node, found, named=True) if isinstance(node, Mapping) else None


def _words(scope: Scope, node: Mapping, found: list[Diagnostic], *, named: bool) -> Words:
    """A block of words; where they are not `named`, they are values that have been read already."""
    words: list[tuple[str, tuple[Setting, ...]]] = []
    for word, value in node.entries:
        if named:
            name(word, "a word", found, VALUE_WORDS)
        words.append((word.text, _brings(scope, word, value, found)))
    return Words(tuple(words))


def _brings(scope: Scope, word: Scalar, node: Node, found: list[Diagnostic]) -> tuple[Setting, ...]:
    """`nothing`, or a block of outright lines."""
    if isinstance(node, Mapping):
        return settings_of(bind_lines(scope, node.entries, found, words=False))
    if isinstance(node, Scalar) and node.text != _NOTHING:
        help = f"write `{word.text}: {{DEVICE.CONTROL: VALUE}}`, or `{word.text}: nothing`"
        found.append(names.WRONG_SHAPE.at(node.span, f"`{node.text}` is no block of lines", help))
    return ()


def bind_translations(scope: Scope, fields: Fields, found: list[Diagnostic]) -> Translations:
    """What the names of absent devices become on this rig."""
    translations: Translations = {}
    without: list[str] = []
    for key, node in fields.each("vocabulary"):
        if not is_translation(scope, key.text) or isinstance(node, Broken):
            continue
        device = key.text.partition(".")[0]
        if device in scope.devices:
            message = f"`{device}` is a device of this rig; only an absent device's names are translated"
            found.append(
                names.BAD_NAME.at(key.span, message, "take the line out, or give the entry another name")
            )
            continue
        if key.text in scope.absents and isinstance(node, Scalar) and node.text == _NOTHING:
            without.append(device)
            continue
        target = scope.target(key, found)
        if target is None:
            continue
        becomes = _translation(scope, target, node, found)
        if becomes is not None:
            translations[target] = becomes
    for device in without:
        definition = scope.definition(device)
        controls = definition.controls if definition is not None else ()
        for label in (PATCH, *(control.name for control in controls)):
            translations.setdefault(Target(device, label), DoneWithout())
    return translations


def _translation(
    scope: Scope, target: Target, node: Node, found: list[Diagnostic]
) -> Words | Passed | DoneWithout | None:
    if isinstance(node, Mapping):
        sound = [_row_value(scope, target, word, found) is not None for word, _ in node.entries]
        words = _words(scope, node, found, named=False)
        if all(sound):
            _own_only(scope, words, found)
            return words
        return None
    if not isinstance(node, Scalar):
        return None
    if node.text == _NOTHING:
        return DoneWithout()
    own = scope.target(node, found)
    if own is None:
        return None
    if own.device in scope.absents or (own.control == PATCH) != (target.control == PATCH):
        message = f"`{target}` cannot be handed on to `{own}`"
        help = "hand a control on to a control of this rig's own, and a patch to a patch"
        found.append(names.WRONG_SHAPE.at(node.span, message, help))
        return None
    return Passed(own)


def _row_value(scope: Scope, target: Target, word: Scalar, found: list[Diagnostic]) -> Meaning | None:
    """The absent device's value that a row stands for."""
    if target.control == PATCH:
        text = name(word, "a patch", found, VALUE_WORDS)
        return None if text is None else Said(Word(text))
    value = read(scope.control(target), word.text)
    if isinstance(value, Misread):
        found.append(misread_at(word.span, f"`{target}`", value))
        return None
    return Said(value)


def _own_only(scope: Scope, words: Words, found: list[Diagnostic]) -> None:
    for _, settings in words.words:
        _own_settings(scope, settings, found)


def _own_settings(scope: Scope, settings: tuple[Setting, ...], found: list[Diagnostic]) -> None:
    for setting in settings:
        if setting.target.device in scope.absents:
            message = f"a translation brings `{setting.target}`, which is absent itself"
            help = "name controls of this rig's own"
            found.append(names.WRONG_SHAPE.at(setting.span, message, help))


def bind_joints(scope: Scope, fields: Fields, found: list[Diagnostic]) -> tuple[Joint, ...]:
    """The tables of names that share one control here."""
    joints = []
    for item in fields.items("joint"):
        if not isinstance(item, Mapping):
            continue
        table = Fields(item, found)
        of = [_joined(scope, scalar, found) for scalar in table.scalars("of")]
        targets = tuple(target for target in of if target is not None)
        if len(targets) != len(of):
            continue
        rows = [_row(scope, targets, row, found) for row in table.items("rows")]
        joints.append(Joint(targets, tuple(row for row in rows if row is not None), item.span))
    return tuple(joints)


def _joined(scope: Scope, scalar: Scalar, found: list[Diagnostic]) -> Target | None:
    target = scope.target(scalar, found)
    if target is None or target.device in scope.absents:
        return target
    message = f"`{scalar.text}` is this rig's own; a joint table is of absent devices' names"
    found.append(
        names.UNKNOWN_NAME.at(scalar.span, message, did_you_mean(target.device, scope.absents, "absent"))
    )
    return None


def _row(scope: Scope, of: tuple[Target, ...], node: Node, found: list[Diagnostic]) -> Row | None:
    items = getattr(node, "items", ())
    values = scalars(node)
    if not items or len(values) != len(of) or not isinstance(items[-1], Mapping):
        if not isinstance(node, Broken) and not any(isinstance(item, Broken) for item in items):
            message = f"a row of this table is {len(of)} values and a block of lines"
            found.append(
                names.WRONG_SHAPE.at(node.span, message, "write it like `[cliff, hall, {multi.patch: D4}]`")
            )
        return None
    read_values = [
        _row_value(scope, target, scalar, found) for target, scalar in zip(of, values, strict=True)
    ]
    sound = tuple(value for value in read_values if value is not None)
    settings = settings_of(bind_lines(scope, items[-1].entries, found, words=False))
    _own_settings(scope, settings, found)
    return Row(sound, settings, node.span) if len(sound) == len(of) else None
