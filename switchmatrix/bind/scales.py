"""A control's scale, by its kind: words to codes, and toggles."""

from __future__ import annotations

from switchmatrix.bind.fields import Fields, is_yes, whole
from switchmatrix.bind.naming import VALUE_WORDS, name
from switchmatrix.bind.ranges import linear, scale_wrong
from switchmatrix.definition.carriers import Carrier, least_code, most_code
from switchmatrix.definition.controls import (
    CHOICE,
    SWITCH,
    TRIGGER,
    Codes,
    Named,
    Scale,
    Toggle,
)
from switchmatrix.diagnostics import names
from switchmatrix.diagnostics.diagnostic import Diagnostic, Related
from switchmatrix.diagnostics.nearest import did_you_mean
from switchmatrix.source import Span
from switchmatrix.syntax.nodes import Mapping, Scalar

FIRE = "now"
_CHOICE_REFUSED = VALUE_WORDS - {"on", "off"}


POSITIONS = Named((("on", Codes(1, 1, 1)), ("off", Codes(0, 0, 0))))
"""The codes of a toggle are positions: what is sent is a press, whichever way it goes."""


def scale_of(
    kind: str, key: Scalar, fields: Fields, least: int, most: int, toggle: Toggle | None
) -> Scale | None:
    """The scale of a control of `kind` whose carrier holds codes from `least` to `most`."""
    if toggle is not None:
        return POSITIONS
    if kind == SWITCH:
        return switch_codes(fields, least, most)
    if kind == CHOICE:
        return named_scale(fields, "values", least, most)
    if kind == TRIGGER:
        codes = fields.block("codes")
        code = most if codes is None else codes.whole("fire", least, most)
        return None if code is None or fields.broken("codes") else Named(((FIRE, Codes(code, code, code)),))
    return linear(kind, key, fields, least, most)


def toggle_of(fields: Fields, carrier: Carrier) -> tuple[Toggle | None, bool]:
    """The toggle, if the switch is one, and whether it was written soundly."""
    if any(fields.broken(key) for key in ("toggle", "powers-up")):
        return None, False
    block, powers_up = fields.block("toggle"), fields.scalar("powers-up")
    if block is None:
        if powers_up is not None:
            message = "`powers-up` is for a switch that can only be flipped"
            scale_wrong(powers_up.span, message, "write its `toggle`, or take this away", fields.found)
        return None, powers_up is None
    if fields.has("codes"):
        message = "a switch has `codes` for on and off, or a `toggle`: one of the two"
        scale_wrong(block.span, message, "take one away", fields.found)
        return None, False
    least, most = least_code(carrier), most_code(carrier)
    press, given = block.whole("press", least, most), block.scalar("release")
    if press is None or given is None:
        return None, False
    release = None if given.text == "none" else whole(given, least, most, "`release`", fields.found)
    if release is None and given.text != "none":
        return None, False
    position = None if powers_up is None else is_yes(powers_up.text)
    return Toggle(press, release, position), True


def switch_codes(fields: Fields, least: int, most: int) -> Named | None:
    """On and off: the largest code of the carrier and its smallest unless said.

    A key may be held: its `off: 0` lets it go, though 0 is no velocity.
    """
    codes = fields.block("codes")
    if codes is None:
        default = Named((("on", Codes(most, most, most)), ("off", Codes(least, least, least))))
        return None if fields.broken("codes") else default
    on, off = codes.whole("on", least, most), codes.whole("off", 0, most)
    if on is None or off is None:
        return None
    if on == off:
        scale_wrong(codes.span, f"on and off have one code, {on}", "give each its own", fields.found)
        return None
    return Named((("on", Codes(on, on, on)), ("off", Codes(off, off, off))))


def named_scale(fields: Fields, key: str, least: int, most: int) -> Named | None:
    """Words to codes or ranges of codes, no code meaning two words."""
    given = fields.node.key(key)
    if (
        given is not None
        and isinstance(fields.node.get(key), Mapping)
        and not any(True for _ in fields.each(key))
    ):
        scale_wrong(
            given.span, f"`{key}` names nothing that could be set", "write a name and its code", fields.found
        )
        return None
    words: dict[str, tuple[Codes, Span]] = {}
    wrong: set[str] = set()
    for word, node in fields.each(key):
        codes = _codes(node, least, most, fields.found) if isinstance(node, Scalar) else None
        if name(word, "a value", fields.found, _CHOICE_REFUSED) is None or codes is None:
            wrong.add(word.text)
            continue
        shared = next((w for w, (c, _) in words.items() if codes.low <= c.high and c.low <= codes.high), None)
        if shared is not None:
            related = (Related(words[shared][1], f"`{shared}` is given here"),)
            message = f"`{word.text}` and `{shared}` share a code"
            fields.found.append(names.SCALE_WRONG.at(word.span, message, "give each its own", related))
            wrong.add(word.text)
        words[word.text] = (codes, word.span)
    sent = _sends(fields, {word: codes for word, (codes, _) in words.items()}, wrong, least, most)
    if sent is None or wrong:
        return None
    return Named(tuple((w, Codes(c.low, c.high, sent.get(w, c.sent))) for w, (c, _) in words.items()))


def _sends(
    fields: Fields, words: dict[str, Codes], wrong: set[str], least: int, most: int
) -> dict[str, int] | None:
    """Which code of its range each word under `send` is sent as; None where one is wrong."""
    sends: dict[str, int] = {}
    sound = not fields.broken("send")
    for word, node in fields.each("send"):
        sent = whole(node, least, most, f"`{word.text}`", fields.found) if isinstance(node, Scalar) else None
        if sent is None or word.text in wrong:
            sound = False
        elif word.text not in words:
            message = f"`send` names `{word.text}`, which is none of the values"
            fields.found.append(
                names.UNKNOWN_NAME.at(word.span, message, did_you_mean(word.text, words, "values"))
            )
            sound = False
        elif not words[word.text].low <= sent <= words[word.text].high:
            message = f"`{word.text}` is sent as a code that does not mean it"
            scale_wrong(word.span, message, "send one of its own codes", fields.found)
            sound = False
        else:
            sends[word.text] = sent
    return sends if sound else None


def _codes(scalar: Scalar, least: int, most: int, found: list[Diagnostic]) -> Codes | None:
    """`5`, or `0-63`, sent as the middle, halves up."""
    parts = [Scalar(part.strip(), scalar.span) for part in scalar.text.split("-")]
    bounds = [whole(part, least, most, "the code", found) for part in parts]
    low, high = bounds[0], bounds[-1]
    if low is None or high is None:
        return None
    if low > high:
        scale_wrong(scalar.span, f"the codes {scalar.text} run backwards", f"write `{high}-{low}`", found)
        return None
    return Codes(low, high, (low + high + 1) // 2)
