"""Which MIDI ports the machine has."""

from __future__ import annotations

import time

from switchmatrix.live.process import Process
from switchmatrix.live.records import MS, NoPorts, Ports

DEADLINE_NS = 4_000 * MS


def ports(api: str = "auto", deadline_ns: int = DEADLINE_NS) -> Ports | NoPorts:
    """The machine's MIDI inputs and outputs (`api`: auto, alsa, jack or core)."""
    process = Process("port_probe", api)
    word = process.first_word(time.monotonic_ns() + deadline_ns)
    process.kill()
    if isinstance(word, Ports | NoPorts):
        return word
    return NoPorts("the MIDI server is there but does not answer")
