"""What plays live sees of ports, whether they are the machine's or software in the same process."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Protocol

from switchmatrix.live.records import Due, Heard, Lost, NoPorts, Ports, Refused, Sent, Stopped


class Output(Protocol):
    """An open output port.

    `beats` says whether a lost server is noticed at all; `missed` counts beats that a living one dropped, and
    with them maybe messages; of what was sent, `certain` surely went through the server.
    """

    name: str
    lost: Lost | None

    @property
    def beats(self) -> bool:
        """Whether a lost server is noticed."""

    @property
    def missed(self) -> int:
        """Beats that the server dropped."""

    @property
    def certain(self) -> int:
        """How many messages surely went through the server."""

    def hand(
        self, messages: Sequence[Due], *, ahead: bool = False, knows: int | None = None
    ) -> Refused | None:
        """Have a batch sent, each message at its moment; all of it or none is taken.

        One that is `ahead` goes before all that still waits. Its moments were planned by somebody who knew
        how late the first `knows` messages left, in the order sent; None where they depend on none of them.
        """

    def stop(self) -> Stopped | Lost:
        """Send nothing more of what was handed, from the next message boundary on."""

    def waiting(self) -> int:
        """How many messages are not yet known to be sent."""

    def news(self) -> tuple[Sent, ...]:
        """What was sent since this was last asked."""

    def close(self) -> None:
        """Close the port; what was not sent never is."""


class Input(Protocol):
    """An open input port."""

    name: str
    lost: Lost | None

    @property
    def beats(self) -> bool:
        """Whether a lost server is noticed."""

    @property
    def missed(self) -> int:
        """Beats that the server dropped."""

    def news(self) -> tuple[Heard, ...]:
        """What came since this was last asked."""

    def close(self) -> None:
        """Close the port."""


class Transport(Protocol):
    """Ports and their clock."""

    def now_ns(self) -> int:
        """This moment, by the clock of everything sent and heard."""

    def ports(self) -> Ports | NoPorts:
        """The inputs and outputs that there are."""

    def open_output(self, name: str, *, virtual: bool = False, share: bool = False) -> Output | Refused:
        """Open the output of exactly that name, or make a virtual one that others can listen to."""

    def open_input(self, name: str, *, virtual: bool = False) -> Input | Refused:
        """Open the input of exactly that name, or make a virtual one that others can send to."""

    def wait(self, until_ns: int) -> None:
        """Let time pass until then, or until an open port may have news."""

    def close(self) -> None:
        """Close every port that this transport opened."""
