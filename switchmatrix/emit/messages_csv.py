"""Every message of a leg on a rig as CSV."""

from __future__ import annotations

import csv
import io

from switchmatrix.compile.plan import LegPlan, running_messages
from switchmatrix.compile.sentence import hex_text

COLUMNS = (
    "song",
    "visit",
    "scene",
    "starts_us",
    "lands_us",
    "port",
    "device",
    "meaning",
    "bytes_hex",
    "file",
    "line",
)


def messages_csv(plan: LegPlan) -> str:
    """One row a message, visits in order; microseconds count from the visit's moment.

    Scenes that no visit reaches (standing scenes among them) come as visit 0, from unknown.
    """
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(COLUMNS)
    for song, visit, scene, message in running_messages(plan):
        step = message.step
        writer.writerow(
            (
                song,
                visit,
                scene,
                message.starts_us,
                message.lands_us,
                step.port,
                step.device,
                step.meaning,
                hex_text(step.data),
                step.span.path,
                step.span.line,
            )
        )
    return out.getvalue()
