"""The one gate: nothing live before a person has said that outputs are muted and people told."""

from __future__ import annotations

from switchmatrix.live.stepping.gate import CAUTION, MUTED

CAUTIONS = (
    "This is not a safety system: the show-stop call belongs to stage management.",
    CAUTION,
    "The tool cannot know what hangs on a port: keep whatever is hazardous off it.",
    "A valve amplifier never runs without its load.",
)
"""What stands beside anything that is sent live."""

QUESTION = MUTED
AFTER_FAULT = "Nothing more is sent until a person says so. Mute outputs and tell people again."
UNASKED = "The show says `ask-after-fault: no`, so it goes on with nobody asked."
NOT_SAID = "nothing was sent: nobody has said that outputs are muted and people told"


class ShutError(Exception):
    """Something was to be sent while the gate was shut: a fault of ours."""


class Gate:
    """Shut until a person says so; a fault shuts it again, whatever was said in advance."""

    __slots__ = ("is_open",)

    def __init__(self, said: bool = False) -> None:
        self.is_open = said

    def say(self) -> None:
        """A person has said that outputs are muted and people told."""
        self.is_open = True

    def fault(self) -> None:
        """Something went wrong on the wire: a person must say so once more."""
        self.is_open = False

    def need(self) -> None:
        """ShutError while the gate is shut."""
        if not self.is_open:
            raise ShutError(NOT_SAID)
