"""Which of the machine's ports a rig's port name means: a whole name, else a part of one, else a pattern.

JACK calls a port `client:port`; ALSA `client:port 20:0`, with numbers that change from day to day. So a
whole name may leave out the numbers, the client or the port.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from fnmatch import fnmatchcase

_ALSA_NUMBERS = re.compile(r" \d+:\d+$")


@dataclass(frozen=True, slots=True)
class Match:
    """The one port that fits."""

    wanted: str
    name: str


@dataclass(frozen=True, slots=True)
class Missing:
    """No port fits."""

    wanted: str
    there: tuple[str, ...]

    @property
    def text(self) -> str:
        """What is missing, and what there is, in one line."""
        return f"no port is `{self.wanted}`; there {_listed(self.there)}"


@dataclass(frozen=True, slots=True)
class Ambiguous:
    """Several ports fit equally well."""

    wanted: str
    fits: tuple[str, ...]
    there: tuple[str, ...]

    @property
    def text(self) -> str:
        """Which ports fit, and what there is, in one line."""
        fits = " and ".join(f"`{name}`" for name in self.fits)
        return f"`{self.wanted}` could be {fits}; there {_listed(self.there)}"


def match(wanted: str, there: tuple[str, ...]) -> Match | Missing | Ambiguous:
    """The port of `there` that `wanted` means: the first way of fitting that any port fits decides."""
    for fits in _WAYS:
        found = tuple(name for name in there if fits(wanted, name))
        if len(found) == 1:
            return Match(wanted, found[0])
        if found:
            return Ambiguous(wanted, found, there)
    return Missing(wanted, there)


def plain(name: str) -> str:
    """A port's name without the numbers that ALSA puts behind it."""
    return _ALSA_NUMBERS.sub("", name)


def _ports(name: str) -> set[str]:
    """A port's name without its client, with and without numbers."""
    port = name.partition(":")[2]
    return {port, plain(port)} if ":" in plain(name) else set()


_WAYS: tuple[Callable[[str, str], bool], ...] = (
    lambda wanted, name: wanted == name,
    lambda wanted, name: wanted == plain(name),
    lambda wanted, name: wanted in _ports(name),
    lambda wanted, name: wanted == plain(name).partition(":")[0],
    lambda wanted, name: wanted != "" and wanted in plain(name),
    lambda wanted, name: wanted != "" and wanted.casefold() in plain(name).casefold(),
    lambda wanted, name: any(fnmatchcase(one, wanted) for one in (plain(name), *_ports(name))),
    lambda wanted, name: fnmatchcase(plain(name).casefold(), wanted.casefold()),
)


def _listed(names: tuple[str, ...]) -> str:
    match names:
        case ():
            return "is none at all"
        case (name,):
            return f"is only `{name}`"
    return "are " + ", ".join(f"`{name}`" for name in names)
