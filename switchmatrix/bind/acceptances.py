"""Findings that a show accepts, each with a reason."""

from __future__ import annotations

import re
from dataclasses import replace

from switchmatrix.bind.fields import Fields
from switchmatrix.diagnostics import names
from switchmatrix.diagnostics.diagnostic import Diagnostic, Severity, has_errors, in_order
from switchmatrix.diagnostics.nearest import did_you_mean
from switchmatrix.model.show import Acceptance
from switchmatrix.source import Span
from switchmatrix.syntax.nodes import Mapping


def accepted(fields: Fields, found: list[Diagnostic]) -> tuple[Acceptance, ...]:
    """What the show accepts: `where` is a file, and after a space what the message must have in it."""
    by_name = {known.name: known for known in names.NAMES}
    out = []
    for item in fields.items("accept"):
        block = Fields(item, found) if isinstance(item, Mapping) else None
        given = [block.scalar(key) for key in ("name", "where", "because")] if block is not None else []
        if len(given) != 3 or given[0] is None or given[1] is None or given[2] is None:
            continue
        name, where, because = given[0], given[1], given[2]
        if name.text not in by_name:
            message = f"no finding is called `{name.text}`"
            found.append(
                names.UNKNOWN_NAME.at(name.span, message, did_you_mean(name.text, by_name, "findings"))
            )
        elif by_name[name.text].severity is Severity.ERROR:
            message = f"`{name.text}` is an error: it cannot be accepted"
            found.append(names.BAD_VALUE.at(name.span, message, "only warnings and hints can: mend the show"))
        else:
            path, about = _where(where.text)
            out.append(Acceptance(name.text, path, about, because.text, item.span))
    return tuple(out)


def _where(text: str) -> tuple[str, str]:
    """The file, and what the message must have in it: a file's name may have spaces of its own."""
    named = re.match(r"(.*?\.yaml)(?: |$)", text)
    path = named[1] if named is not None else text.partition(" ")[0]
    return path, text[len(path) :].strip()


def accept(found: list[Diagnostic], acceptances: tuple[Acceptance, ...]) -> list[Diagnostic]:
    """Accepted warnings as hints with their reason, accepted hints left out; errors stay what they are.

    An acceptance that nothing fits any more is a finding of its own, but not beside an error: what a song
    or a rig with an error would raise is not known.
    """
    out: list[Diagnostic] = []
    used: set[Span] = set()
    for finding in found:
        fitting = [one for one in acceptances if _fits(one, finding)]
        used |= {one.span for one in fitting}
        if not fitting:
            out.append(finding)
        elif finding.severity is Severity.WARNING:
            help = f"accepted: {fitting[0].because}"
            out.append(replace(finding, severity=Severity.HINT, help=help))
    if not has_errors(found):
        out += [_nothing(one) for one in acceptances if one.span not in used]
    return in_order(out)


def _fits(one: Acceptance, finding: Diagnostic) -> bool:
    """Whether an acceptance is of this finding."""
    same = finding.name == one.name and finding.span.path == one.path
    return same and one.about in finding.message and finding.severity is not Severity.ERROR


def _nothing(one: Acceptance) -> Diagnostic:
    about = f" about `{one.about}`" if one.about else ""
    message = f"no warning or hint `{one.name}`{about} is found in `{one.path}` any more"
    return names.ACCEPTED_NOTHING.at(one.span, message, "take the acceptance out")
