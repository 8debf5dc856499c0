"""Every message of a leg on a rig as CSV."""

from __future__ import annotations

import csv
import io

from switchmatrix.compile.plan import LegPlan
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
    """One row a message, visits in order; microseconds count from the visit's moment."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(COLUMNS)
    for song in plan.songs:
        for planned in song.visits:
            for m in planned.messages:
                step = m.step
                writer.writerow(
                    (
                        song.states.song.song.id,
                        planned.visit.number,
                        planned.visit.scene,
                        m.starts_us,
                        m.lands_us,
                        step.port,
                        step.device,
                        step.meaning,
                        hex_text(step.data),
                        step.span.path,
                        step.span.line,
                    )
                )
    return out.getvalue()
