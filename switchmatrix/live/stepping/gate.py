"""The one gate: what a person says before anything is sent, and the words in which it is asked."""

from __future__ import annotations

from collections.abc import Iterable
from enum import Enum

from switchmatrix.compile.known import set_by_hand
from switchmatrix.model.rig import Rig


class Gate(Enum):
    """Whether a rig may be sent anything; if not, why a person has to speak first."""

    OPEN = "open"
    FIRST = "nothing has been sent yet"
    RESUMED = "the last run did not end as it should have"
    FAULT = "something went wrong"


class Question(Enum):
    """What a person is asked."""

    MUTED = "whether outputs are muted and people told"
    HOME = "whether the rig goes to its home state"


CAUTION = (
    "A change can jump in level: outputs muted, player and monitor engineer told, ears out or monitors "
    "muted until the first change has been heard at low level."
)
"""What stands beside the question, and is printed where a show goes on after a fault without asking."""

MUTED = "Are the outputs muted, and have the player and the monitor engineer been told?"
"""The gate's question."""

MOST_UNASKED = 3
"""A show that has opted out of being asked is asked all the same after so many faults: what fails each
time is no passing fault."""

SILENCE_FIRST = "Then `silence` is sent first, and after it the whole scene, with nothing taken for known."
WHOLE = "Then the whole scene is sent, with nothing taken for known."


def asked(rigs: Iterable[tuple[Rig, Gate, bool]]) -> str:
    """The gate's question for rigs that wait at it, each with why and whether it has `silence`."""
    lines: list[str] = []
    for rig, gate, silence in rigs:
        lines.append(f"{rig.title}: {gate.value}.")
        if gate is Gate.FIRST:
            lines += [f"Set by hand: {device}.{control} {on}." for device, control, on in set_by_hand(rig)]
        else:
            lines.append(SILENCE_FIRST if silence else WHOLE)
    return "\n".join([*lines, CAUTION, MUTED])


def home_asked(titles: Iterable[str]) -> str:
    """The question before a rig goes home."""
    return f"Bring {' and '.join(titles)} to the home state? The player's controls move too."
