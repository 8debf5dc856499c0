"""A line check beside the last one of the same rig."""

from __future__ import annotations

from switchmatrix.live.identity import version_said
from switchmatrix.live.line_check.records import Report, Result


def since(report: Report, last: Report) -> tuple[str, ...]:
    """What has changed since the last check, a line each."""
    before = {one.device: one for one in last.results}
    lines = [line for one in report.results for line in _device(one, before.get(one.device), last.at)]
    gone = [name for name in before if name not in {one.device for one in report.results}]
    lines += [f"{name}: checked on {last.at}, and no longer in the map" for name in gone]
    return tuple(lines)


def _device(now: Result, was: Result | None, at: str) -> list[str]:
    if was is None:
        return [f"{now.device}: not in the map on {at}"]
    lines = []
    if now.version is not None and was.version is not None and now.version != was.version:
        versions = f"was {version_said(was.version)}, is {version_said(now.version)}"
        lines.append(f"{now.device}: version changed since {at}: {versions}")
    if now.verdict is not was.verdict:
        lines.append(f"{now.device}: {now.verdict.value}; on {at}: {was.verdict.value}")
    return lines
