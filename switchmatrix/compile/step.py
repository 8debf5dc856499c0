"""One message of a transition."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from switchmatrix.source import Span


class Role(Enum):
    """What a message is there for."""

    MUTE_ON = "mute on"
    RECALL = "recall"
    SET = "set"
    MUTE_OFF = "mute off"
    TRIGGER = "trigger"


@dataclass(frozen=True, slots=True)
class Step:
    """One message to one device: its bytes, what it means, who said so, and what must be waited for.

    It is message `part` of the `parts` of its unit. The device takes nothing for `gap_us` after it,
    and has settled `settle_us` after it, in microseconds. `moves` names what it moves of its device;
    `mutes` are the numbers of the rig's mutes that it holds or lets go.
    """

    device: str
    port: str
    channel: int
    data: bytes
    meaning: str
    settle_us: int
    span: Span
    layer: str
    name: str
    gap_us: int = 0
    part: int = 1
    parts: int = 1
    role: Role = Role.SET
    moves: frozenset[str] = frozenset()
    mutes: tuple[int, ...] = ()
