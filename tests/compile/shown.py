"""What the tests of messages share: bytes as text, and a reader of MIDI files that refuses running status."""

from __future__ import annotations

from switchmatrix.emit.midi_files import song_files
from switchmatrix.pipeline import Judged, plan
from tests.support import findings, timed


def wire(show: Judged, label: str, after: str | None = None, song: str = "lantern") -> list[str]:
    """The messages of a scene as `device HEX` in order of time, from unknown or from another scene."""
    return [f"{m.step.device} {m.step.data.hex(' ').upper()}" for m in timed(show, song, label, after)]


def moments(show: Judged, label: str, after: str | None = None) -> list[tuple[int, str]]:
    """The messages of a scene as (microsecond of the first byte, `device HEX`)."""
    return [
        (m.starts_us, f"{m.step.device} {m.step.data.hex(' ').upper()}")
        for m in timed(show, "lantern", label, after)
    ]


def on_the_wire(show: Judged, label: str, after: str | None = None) -> list[tuple[str, bytes, int]]:
    """The messages of a scene as (port, bytes, microsecond of the first byte), in order of time."""
    return [(m.step.port, m.step.data, m.starts_us) for m in timed(show, "lantern", label, after)]


def visits(show: Judged, song: str = "lantern") -> list[list[str]]:
    """The messages of each visit of a song, as its plan has them, as `device HEX`."""
    assert show.sound, "\n".join(findings(show))
    planned = next(s for s in plan(show)[0].songs if s.states.song.song.id == song)
    return [[f"{m.step.device} {m.step.data.hex(' ').upper()}" for m in v.messages] for v in planned.visits]


def midi_files(show: Judged, song: str = "lantern", format: int = 0) -> dict[str, bytes]:
    """The MIDI files of a song, by name."""
    assert show.sound, "\n".join(findings(show))
    leg = plan(show)[0]
    planned = next(s for s in leg.songs if s.states.song.song.id == song)
    return song_files(leg.rig, planned, format)


def in_file(data: bytes) -> list[str]:
    """The channel messages of a MIDI file as HEX, in track order.

    Chunks, lengths and deltas as MMA RP-001 p. 2-9 has them. ValueError where an event comes without
    its status byte: no message here leans on running status.
    """
    out: list[str] = []
    at = 14
    while at < len(data):
        if data[at : at + 4] != b"MTrk":
            raise ValueError("a chunk that is no track")
        end = at + 8 + int.from_bytes(data[at + 4 : at + 8], "big")
        at += 8
        while at < end:
            _, at = _length(data, at)
            status = data[at]
            if status < 0x80:
                raise ValueError(f"an event without its status byte: {status:02X}")
            if status == 0xFF:
                size, at = _length(data, at + 2)
                at += size
                continue
            size = 2 if status >> 4 in (0xC, 0xD) else 3
            out.append(data[at : at + size].hex(" ").upper())
            at += size
    return out


def _length(data: bytes, at: int) -> tuple[int, int]:
    """A number of variable length, and where it ends."""
    number = 0
    while True:
        number = number << 7 | data[at] & 0x7F
        at += 1
        if data[at - 1] < 0x80:
            return number, at
