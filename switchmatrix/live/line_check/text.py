"""A line check's report as text."""

from __future__ import annotations

from collections.abc import Iterable

from switchmatrix.live.line_check.records import Report, Result, Verdict

_STAND_IN = "stand-in: "


def report_text(report: Report) -> str:
    """The report, every line marked where it is of a stand-in."""
    mark = _STAND_IN if report.stand_in else ""
    return "".join(f"{mark}{line}".rstrip() + "\n" for line in report_lines(report))


def report_lines(report: Report) -> list[str]:
    """When and what, then a line a device, then what concerns several, then what has changed."""
    lines = [f"line check of {report.show}, {report.rig}", report.at, "", *_table(report.results)]
    for title, found in (
        ("together", report.chains),
        ("also heard", report.strangers),
        ("broken off on the way, and gone on with", report.faults),
        ("since the last check", report.since),
    ):
        lines += ["", f"{title}:", *(f"  {line}" for line in found)] if found else []
    return [*lines, "", report.ended, _summary(report)]


def _table(results: Iterable[Result]) -> list[str]:
    rows = [(one.device, one.port, one.verdict.value, _said(one)) for one in results]
    widths = [max((len(row[n]) for row in rows), default=0) for n in range(3)]
    return [
        "  ".join([*(text.ljust(w) for text, w in zip(row[:3], widths, strict=True)), row[3]]) for row in rows
    ]


def _said(result: Result) -> str:
    return result.said if result.trip is None else f"{result.said}; {result.trip}"


def _summary(report: Report) -> str:
    wanted = [one for one in report.results if one.verdict is not Verdict.LEFT_OUT]
    passed = sum(one.passed for one in wanted)
    left_out = len(report.results) - len(wanted)
    rest = f", {left_out} left out" if left_out else ""
    verdict = "passed" if report.passed else "NOT passed"
    return f"{verdict}: {passed} of {len(wanted)} devices respond{rest}"
