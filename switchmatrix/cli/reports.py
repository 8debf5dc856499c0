"""The reports of line checks: each beside the last one of its rig, and kept in a folder."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import click

from switchmatrix.cli.common import write
from switchmatrix.cli.wiring import MARK
from switchmatrix.live.line_check.as_json import read_report, report_json
from switchmatrix.live.line_check.compare import since
from switchmatrix.live.line_check.records import Report


def compared(report: Report, folder: Path) -> Report:
    """The report with what has changed since the last one of the same rig."""
    try:
        paths = sorted(folder.glob(f"{report.rig}-*.json"), reverse=True)
    except OSError:
        return report
    for path in paths:
        try:
            last = read_report(path.read_text(encoding="utf-8"))
        except (OSError, UnicodeDecodeError):
            last = None
        if last is not None and (last.rig, last.stand_in) == (report.rig, report.stand_in):
            return replace(report, since=since(report, last))
    return report


def keep(folder: Path, report: Report, text: str) -> None:
    """Write both reports under a name that no earlier one has."""
    stamp = report.at[:19].replace("-", "").replace(":", "").replace("T", "-")
    name, more = f"{report.rig}-{stamp}", 1
    while (folder / f"{name}.json").exists():
        more += 1
        name = f"{report.rig}-{stamp}-{more}"
    write(folder, {f"{name}.txt": text, f"{name}.json": report_json(report)})
    click.echo(f"{MARK if report.stand_in else ''}kept as {folder / name}.txt and .json")
