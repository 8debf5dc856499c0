"""What is typed at the foot of the screen: a search, a remark, a device to take out or to bring back."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from switchmatrix.live.rehearsing.session import Rehearsal
from switchmatrix.live.stepping.inputs import BringBack, Input, Jump, Pin, TakeOut
from switchmatrix.live.stepping.searching import find, plain
from switchmatrix.screens.rehearse.view import label


class Typing(Enum):
    """What is being typed, as the line before it says."""

    FIND = "find a song or a scene"
    REMARK = "remark for later"
    DEVICE = "take out or bring back which device"


@dataclass(frozen=True, slots=True)
class Choice:
    """Something that Enter would do."""

    text: str
    input: Input


def choices(rehearsal: Rehearsal, typing: Typing, text: str) -> tuple[Choice, ...]:
    """What the text stands for, the likeliest first."""
    match typing:
        case Typing.FIND:
            show = rehearsal.state.show
            return tuple(Choice(label(show, stop.key), Jump(stop.key)) for stop in find(show, text))
        case Typing.REMARK:
            return (Choice("keep it", Pin(text.strip())),) if text.strip() else ()
        case Typing.DEVICE:
            return _devices(rehearsal, text)


def _devices(rehearsal: Rehearsal, text: str) -> tuple[Choice, ...]:
    """The devices of the driven rigs with that in their names, those that are out first."""
    out: list[Choice] = []
    gone: list[Choice] = []
    wanted = plain(text.strip())
    for id in rehearsal.state.driven:
        now, rig = rehearsal.state.rig(id), rehearsal.state.prepared(id).rig
        for device in rig.devices:
            if wanted not in plain(device.name):
                continue
            if device.name in now.out:
                gone.append(Choice(f"bring back {device.name} of {rig.title}", BringBack(id, device.name)))
            else:
                out.append(Choice(f"take out {device.name} of {rig.title}", TakeOut(id, device.name)))
    return (*gone, *out)
