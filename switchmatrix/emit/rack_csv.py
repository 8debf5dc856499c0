"""The rack list as CSV, a row for each thing to do."""

from __future__ import annotations

import csv
import io

from switchmatrix.compare.records import RackList

COLUMNS = (
    "done",
    "rig",
    "device",
    "model",
    "port",
    "out",
    "channel",
    "id",
    "do",
    "what",
    "number",
    "detail",
    "was",
    "scenes",
)


def rack_csv(racks: tuple[RackList, ...]) -> str:
    """One row a task; `done` is a box to tick, `scenes` how many a change touches."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(COLUMNS)
    for rack in racks:
        for device in rack.devices:
            of = (rack.rig, device.name, device.model, device.port, device.out, device.channel, device.id)
            for task in device.tasks:
                count = "" if task.scenes is None else task.scenes
                row = (task.do, task.what, task.number, task.detail, task.was or "", count)
                writer.writerow(("[ ]", *of, *row))
    return out.getvalue()
