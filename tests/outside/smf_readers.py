"""Two readers of MIDI files that are not the writer, brought to one form: py-midicsv and midicsv 1.1.

The midicsv program is left out where it is not installed, but never in CI.
"""

from __future__ import annotations

import csv
import io
import os
import shutil
import subprocess
from collections.abc import Callable, Iterable
from dataclasses import dataclass

import py_midicsv

Event = tuple[object, ...]
"""(tick, kind, data ...): channels are 0-15, a meter's lower number is its power of two."""


@dataclass(frozen=True)
class Smf:
    """A MIDI file as a reader sees it."""

    format: int
    ticks_per_quarter: int
    tracks: tuple[tuple[Event, ...], ...]


KINDS = {
    "Title_t": "name",
    "Device_name_t": "device",
    "Marker_t": "marker",
    "Text_t": "text",
    "Tempo": "tempo",
    "Time_signature": "meter",
    "Program_c": "program",
    "Control_c": "control",
    "Pitch_bend_c": "bend",
    "Channel_aftertouch_c": "pressure",
    "System_exclusive": "exclusive",
    "Note_on_c": "note on",
    "Note_off_c": "note off",
    "End_track": "end",
}
TEXTS = ("name", "device", "marker", "text")
MESSAGES = ("program", "control", "bend", "pressure", "exclusive", "note on", "note off")
"""What is sent, beside what a file says of itself."""


def _event(row: list[str], exclusive_base: int) -> Event:
    tick, kind, data = int(row[1]), row[2], row[3:]
    if kind == "Unknown_meta_event" and data[0] == "9":
        # midicsv 1.1 is older than the device name (MMA RP-019): number, length, bytes.
        return (tick, "device", bytes(int(byte) for byte in data[2:]).decode("latin-1"))
    seen = KINDS[kind]
    if seen == "exclusive":
        return (tick, seen, *(int(byte, exclusive_base) for byte in data))
    return (tick, seen, *data) if seen in TEXTS else (tick, seen, *map(int, data))


def _collected(lines: Iterable[str], exclusive_base: int) -> Smf:
    rows = list(csv.reader(lines, skipinitialspace=True))
    header = next(row for row in rows if row[2] == "Header")
    tracks: list[list[Event]] = []
    for row in rows:
        if row[2] == "Start_track":
            tracks.append([])
        elif row[2] not in ("Header", "End_of_file"):
            tracks[-1].append(_event(row, exclusive_base))
    if len(tracks) != int(header[4]):
        raise ValueError(f"the header says {header[4]} tracks, and there are {len(tracks)}")
    return Smf(int(header[3]), int(header[5]), tuple(map(tuple, tracks)))


def by_py_midicsv(data: bytes) -> Smf:
    """As py-midicsv reads it, in its strict manner; it tells system exclusive in hexadecimal."""
    return _collected(py_midicsv.midi_to_csv(io.BytesIO(data)), 16)


def by_midicsv(data: bytes) -> Smf:
    """As the midicsv program reads it."""
    done = subprocess.run(["midicsv"], input=data, capture_output=True, check=True)
    return _collected(done.stdout.decode("latin-1").splitlines(), 10)


Reader = Callable[[bytes], Smf]

READERS: list[Reader] = [by_py_midicsv]
if shutil.which("midicsv") or os.environ.get("CI"):
    READERS.append(by_midicsv)
