"""Triggers go off as they are meant to, on their own device and with nothing else."""

from __future__ import annotations

import pytest

from switchmatrix.model.rig import Device
from switchmatrix.states.show import Run
from tests.proof.shown import SHOW, failed, run_of

SAMPLER = """\
definition: sampler
programs: {count: 300, first: 0, bank: cc0, bank-when: change, repeat: recalls}
controls:
  level: {kind: level, cc: 7, range: [0, 127]}
  bell: {kind: trigger, note: 60, release: yes, codes: {fire: 100}}
  horn: {kind: trigger, program: yes, bank: 3, codes: {fire: 50}}
"""
LAMP = "definition: lamp\ncontrols: {glow: {kind: level, cc: 9, range: [0, 127]}}\n"
RIG = """\
rig: A rig
ports: {rack: {out: rack, speed: din}, shelf: {out: shelf, speed: din}}
devices:
  sampler: {port: rack, channel: 10, definition: sampler, patches: {quay: 0}}
  lamp: {port: rack, channel: 11, definition: lamp}
  far lamp: {port: shelf, channel: 11, definition: lamp}
home: {sampler: {patch: quay, level: 90}, lamp.glow: 1, far lamp.glow: 2}
"""
SONG = """\
song: Lantern
scenes:
  verse: {}
  chorus: {sampler: {level: 100, bell: now}}
  bridge: {sampler.horn: now}
"""


def struck() -> Run:
    """A sampler with a bell and a horn, and a lamp beside it."""
    return run_of(
        {
            "show.yaml": SHOW,
            "definitions/sampler.yaml": SAMPLER,
            "definitions/lamp.yaml": LAMP,
            "rigs/a-rig.yaml": RIG,
            "lantern.yaml": SONG,
        }
    )


def test_triggers_that_go_off_are_proved() -> None:
    assert failed(struck()) == []


@pytest.mark.parametrize(
    ("arrives", "said"),
    [
        ([], ["it does not go off as it is meant to"]),
        (["99 3D 64", "89 3D 40"], ["it does not go off as it is meant to; bytes  99 3D 64, 89 3D 40"]),
        (["99 3C 63"], ["it does not go off as it is meant to; bytes  99 3C 63"]),
        (
            ["99 3C 64", "99 3C 64"],
            ["it does not go off as it is meant to; bytes  99 3C 64, 99 3C 64"],
        ),
        (["99 3C 64", "B9 07 00"], ["it moves sampler.level too; bytes  99 3C 64, B9 07 00"]),
        (["99 3C 64", "BA 09 00"], ["it moves lamp.glow too; bytes  99 3C 64, BA 09 00"]),
        (
            ["99 3C 64", "B9 00 05"],
            [
                "it leaves sampler in another bank, and that is not counted with; bytes  99 3C 64, B9 00 05",
            ],
        ),
    ],
    ids=["dropped", "another key", "off by one", "doubled", "beside", "on another", "stale bank"],
)
def test_a_trigger_that_does_something_else_is_caught(
    monkeypatch: pytest.MonkeyPatch, arrives: list[str], said: list[str]
) -> None:
    bell = (bytes.fromhex("99 3C 64"), bytes.fromhex("89 3C 40"))

    def wire(_: Device, data: tuple[bytes, ...]) -> tuple[bytes, ...]:
        return tuple(bytes.fromhex(message) for message in arrives) if data == bell else data

    monkeypatch.setattr("switchmatrix.compile.known._bank_wanders", lambda *_: False)
    found = [one for one in failed(struck(), wire) if "sampler.bell" in one]
    assert found == [f"after lantern chorus: sampler.bell; {one}" for one in said]


# A device that is in bank 1 is not in bank 3, where the horn is.
def test_a_program_without_its_bank_is_caught() -> None:
    def bankless(_: Device, data: tuple[bytes, ...]) -> tuple[bytes, ...]:
        return data[1:] if data == (bytes.fromhex("B9 00 02"), bytes.fromhex("C9 32")) else data

    assert failed(struck(), bankless) == [
        "after lantern bridge: sampler.horn; it does not go off as it is meant to; bytes  C9 32",
        "after lantern bridge: sampler.horn; it moves sampler too; bytes  C9 32",
    ]


# The horn leaves the device in its bank: counting on the patch's bank afterwards would be wrong.
def test_counting_on_the_bank_that_a_trigger_leaves_is_caught(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("switchmatrix.compile.known._bank_wanders", lambda *_: False)
    assert failed(struck()) == [
        "after lantern bridge: sampler.horn; it leaves sampler in another bank, and that is not counted "
        "with; bytes  B9 00 02, C9 32"
    ]
