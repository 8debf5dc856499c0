"""Which words may be names."""

from __future__ import annotations

from switchmatrix.diagnostics import names
from switchmatrix.diagnostics.diagnostic import Diagnostic
from switchmatrix.syntax.nodes import Scalar

OWN_KEYS = frozenset(("at", "like", "remark", "instrument", "tempo", "land", "budget"))
RESERVED = OWN_KEYS | frozenset(
    ("order", "trails", "fade", "capo", "tuning", "hands", "fire", "more", "less", "drop")
)
VALUE_WORDS = frozenset(("on", "off", "home", "leave", "as stored", "nothing", "any", "none"))
CONTROL_WORDS = frozenset(("patch", "loops"))
LONGEST = 80


def name(
    scalar: Scalar, what: str, found: list[Diagnostic], refused: frozenset[str] = frozenset()
) -> str | None:
    """The scalar as the name of `what`, or None and a finding."""
    text = scalar.text
    problem = _problem(text, refused)
    if problem is None:
        return text
    message, help = problem
    found.append(names.BAD_NAME.at(scalar.span, f"`{text[:LONGEST]}` cannot name {what}: {message}", help))
    return None


def _problem(text: str, refused: frozenset[str]) -> tuple[str, str] | None:
    if text in RESERVED or text in refused:
        return "the word has a meaning of its own", "choose another name"
    strange = next((c for c in text if c in ".@" or not c.isprintable()), None)
    if strange in (".", "@"):
        return f"it has a `{strange}` in it", f"write it without `{strange}`, perhaps with `-` instead"
    if strange is not None or text != text.strip() or not text:
        return "it has a line break, an odd character or an outer space", "write it in plain letters"
    if len(text) > LONGEST:
        return f"it is longer than {LONGEST} characters", "shorten it; a remark has room for more"
    return None
