"""Messages as JSON with stable keys."""

from __future__ import annotations

import json
from collections.abc import Iterable

from switchmatrix.compile.plan import LegPlan, running_messages
from switchmatrix.compile.schedule import Timed
from switchmatrix.compile.sentence import hex_text


def message_row(message: Timed) -> dict[str, object]:
    """One message; microseconds count from the transition's moment."""
    step = message.step
    return {
        "starts_us": message.starts_us,
        "lands_us": message.lands_us,
        "port": step.port,
        "channel": step.channel,
        "device": step.device,
        "meaning": step.meaning,
        "bytes_hex": hex_text(step.data),
        "file": step.span.path,
        "line": step.span.line,
        "layer": step.layer,
        "name": step.name,
    }


def rows(found: Iterable[dict[str, object]]) -> str:
    """A JSON array, one row a line."""
    return "[\n" + ",\n".join(json.dumps(row, ensure_ascii=False) for row in found) + "\n]\n"


def messages_json(plan: LegPlan) -> str:
    """Every message of a leg on a rig: song, visit and scene, then the message."""
    return rows(
        {"song": song, "visit": visit, "scene": scene, **message_row(message)}
        for song, visit, scene, message in running_messages(plan)
    )
