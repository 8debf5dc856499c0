"""A controller that can set off a hazard keeps the show from compiling."""

from __future__ import annotations

from tests.support import BASE_SHOW, findings, judged

RIG = (BASE_SHOW / "rigs/a-rig.yaml").read_text(encoding="utf-8")
GATE = (BASE_SHOW / "definitions/plain-gate.yaml").read_text(encoding="utf-8")


def heard(control: str, sends: str) -> list[str]:
    """The findings where the gate has one control more, and a controller on its channel sends something."""
    controller = f"controllers:\n  floor: {{port: rack, channel: 2, sends: {sends}}}\n"
    files = {
        "definitions/plain-gate.yaml": GATE + f"  extra: {control}\n",
        "rigs/a-rig.yaml": RIG.replace("devices:\n", controller + "devices:\n"),
    }
    return [line.split(":", 3)[3].strip() for line in findings(judged(files)) if not line.startswith(" ")]


def test_a_hazard_within_a_controllers_reach_is_an_error() -> None:
    assert heard("{kind: switch, cc: 90, hazard: flame}", "{cc: [90]}") == [
        "error hazard: a controller can set off `gate-1.extra`, a hazard (flame)"
    ]


def test_a_hazard_out_of_its_reach_is_none() -> None:
    assert heard("{kind: switch, cc: 90, hazard: flame}", "{cc: [91]}") == []


def test_what_writes_memory_is_not_said_to_be_sent_anew() -> None:
    assert heard("{kind: trigger, cc: 90, writes: yes}", "{cc: [90]}") == []
