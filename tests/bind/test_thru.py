"""`thru-of`: which device feeds which."""

from __future__ import annotations

from pathlib import Path

import pytest

from switchmatrix.pipeline import judge
from tests.cli.kit import lay
from tests.live.rigs import example

RIG = """\
rig: A rig
ports:
  rack: {{out: rack, speed: din}}
  aux: {{out: aux, speed: din}}
devices:
  echo: {{port: rack, channel: 3, {echo}definition: two-tap-echo, patches: {{slap: 4, cliff: 17}}}}
  gate-1: {{port: {port}, channel: 2, {gate}definition: plain-gate}}
vocabulary:
  gate: {{tight: {{gate-1.threshold: -38 dB}}, loose: {{gate-1.threshold: -55 dB}}}}
home: {{gate: loose, echo: {{engage: off, patch: slap}}}}
"""


def said(folder: Path, *, echo: str = "", gate: str = "", port: str = "rack") -> list[str]:
    """The errors of a show with these chains."""
    rig = RIG.format(echo=echo, gate=gate, port=port)
    show = lay(folder, {"rigs/a-rig.yaml": rig})
    return [f"{one.name}: {one.message}" for one in judge(show).found if one.severity.value == "error"]


def test_device_is_fed_by_the_thru_of_another(tmp_path: Path) -> None:
    assert said(tmp_path, gate="thru-of: echo, ") == []


def test_device_that_is_not_there_feeds_nobody(tmp_path: Path) -> None:
    message = "unknown-name: no device is called `ecko`, so no thru of it feeds `gate-1`"
    assert said(tmp_path, gate="thru-of: ecko, ") == [message]


def test_circle_is_refused_at_each_of_its_devices(tmp_path: Path) -> None:
    assert said(tmp_path, echo="thru-of: gate-1, ", gate="thru-of: echo, ") == [
        "bad-value: `echo` is fed by its own thru, in a circle: gate-1, echo, gate-1",
        "bad-value: `gate-1` is fed by its own thru, in a circle: echo, gate-1, echo",
    ]


def test_device_does_not_feed_itself(tmp_path: Path) -> None:
    assert said(tmp_path, gate="thru-of: gate-1, ") == [
        "bad-value: `gate-1` is fed by its own thru, in a circle: gate-1, gate-1"
    ]


def test_no_thru_leads_from_port_to_port(tmp_path: Path) -> None:
    assert said(tmp_path, gate="thru-of: echo, ", port="aux") == [
        "bad-value: `gate-1` hangs on `aux` and `echo` on `rack`: no thru leads across"
    ]


@pytest.mark.parametrize("device", ["filter", "pedal"])
def test_rig_without_the_device_that_fed_another_feeds_it_from_the_port(device: str) -> None:
    rigs = {rig.id: rig for rig in example().worked_out.rigs}
    fed = {id: rigs[id].device(device) for id in ("bench", "bench-short")}
    bench = fed["bench"]
    assert bench is not None
    assert bench.thru_of == {"filter": "acoustic", "pedal": "filter"}[device]
    assert fed["bench-short"] is None or fed["bench-short"].thru_of is None
