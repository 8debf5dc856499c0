"""What a port process asks the MIDI server for, while ports go."""

from __future__ import annotations

from switchmatrix.live.port_server import TRIES, join, listed


class Client:
    """A client whose server loses a port while it lists them, `goes` times."""

    def __init__(self, names: list[str], goes: int) -> None:
        self.names, self.goes = names, goes
        self.joined: int | None = None

    def get_ports(self) -> list[str]:
        """The names, or the error of python-rtmidi 1.5.8 for a name that is gone."""
        self.goes -= 1
        if self.goes >= 0:
            raise ValueError("invalid port number")
        return self.names

    def open_port(self, number: int, name: str) -> None:
        """Connect."""
        assert name == "port"
        if number >= len(self.names):
            raise ValueError("invalid port number")
        self.joined = number


def test_ports_are_asked_for_again_while_one_goes() -> None:
    assert listed(Client(["a:in", "b:in"], goes=TRIES - 1)) == ["a:in", "b:in"]


def test_ports_that_never_stand_still_are_none() -> None:
    assert listed(Client(["a:in"], goes=TRIES)) == []


def test_port_that_is_there_is_joined() -> None:
    client = Client(["a:in", "b:in"], goes=1)
    assert (join(client, "b:in"), client.joined) == (True, 1)


def test_port_that_is_not_there_is_not_joined() -> None:
    client = Client(["a:in"], goes=0)
    assert (join(client, "b:in"), client.joined) == (False, None)


class Going(Client):
    """A client whose port goes just before it is connected to."""

    def open_port(self, number: int, name: str) -> None:
        """Too late."""
        self.names = []
        super().open_port(number, name)


def test_port_that_goes_just_before_it_is_joined_is_not_there() -> None:
    assert join(Going(["a:in"], goes=0), "a:in") is False
