"""A line check's report as JSON, and read back for the next one."""

from __future__ import annotations

import json

from switchmatrix.live.line_check.records import Report, Result, Trip, Verdict


def report_json(report: Report) -> str:
    """The report with stable keys; times in microseconds."""
    whole = {
        "line_check": 1,
        "show": report.show,
        "rig": report.rig,
        "at": report.at,
        "stand_in": report.stand_in,
        "passed": report.passed,
        "whole": report.whole,
        "ended": report.ended,
        "faults": list(report.faults),
        "devices": [_row(one) for one in report.results],
        "chains": list(report.chains),
        "strangers": list(report.strangers),
        "since": list(report.since),
    }
    return json.dumps(whole, ensure_ascii=False, indent=1) + "\n"


def _row(result: Result) -> dict[str, object]:
    row: dict[str, object] = {
        "device": result.device,
        "port": result.port,
        "result": result.verdict.value,
        "said": result.said,
        "version": None if result.version is None else list(result.version),
    }
    if result.trip is not None:
        row["round_trip_us"] = {
            "least": result.trip.least // 1000,
            "median": result.trip.median // 1000,
            "worst": result.trip.worst // 1000,
            "count": result.trip.count,
        }
    return row


def read_report(text: str) -> Report | None:
    """A report that was written before; None for what is none."""
    try:
        whole = json.loads(text)
        results = tuple(_result(row) for row in whole["devices"])
        return Report(
            show=str(whole["show"]),
            rig=str(whole["rig"]),
            at=str(whole["at"]),
            stand_in=bool(whole["stand_in"]),
            results=results,
            ended=str(whole["ended"]),
            whole=bool(whole["whole"]),
        )
    except (ValueError, KeyError, TypeError, AttributeError):
        return None


def _result(row: dict[str, object]) -> Result:
    version, times = row["version"], row.get("round_trip_us")
    return Result(
        device=str(row["device"]),
        port=str(row["port"]),
        verdict=Verdict(row["result"]),
        said=str(row["said"]),
        trip=_trip(times) if isinstance(times, dict) else None,
        version=tuple(int(number) for number in version) if isinstance(version, list) else None,
    )


def _trip(times: dict[str, int]) -> Trip:
    least, middle, worst = (int(times[key]) * 1000 for key in ("least", "median", "worst"))
    return Trip(least, middle, worst, int(times["count"]))
