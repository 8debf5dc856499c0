"""Every kind of control on every carrier that can hold it: data alone, which tests and manual share.

`MATRIX` holds a cell for each pair, with the YAML that makes it; `NO_CELL` the pairs that cannot be.
"""

from __future__ import annotations

from dataclasses import dataclass

CARRIERS = {
    "cc": "cc: 80",
    "cc14": "cc14: [12, 44]",
    "nrpn, 7 bits": "nrpn: [1, 8], data: 7",
    "nrpn, 14 bits": "nrpn: [1, 8], data: 14",
    "rpn, 7 bits": "rpn: [0, 2], data: 7",
    "rpn, 14 bits": "rpn: [0, 0], data: 14",
    "program": "program: yes",
    "note": "note: 60",
    "pitch-bend": "pitch-bend: yes",
    "channel-pressure": "channel-pressure: yes",
    "sysex, one byte": "sysex: {body: [0x7D, id, 0x12, value, checksum], checksum: [3, 4]}",
    "sysex, two bytes": "sysex: {body: [0x7D, id, 0x12, value-lsb, value-msb]}",
}
"""What a definition writes for each carrier."""

WIDE = ("cc14", "nrpn, 14 bits", "rpn, 14 bits", "pitch-bend", "sysex, two bytes")
"""The carriers that hold fourteen bits; the others hold seven."""

SEVEN = {
    "switch": "kind: switch, codes: {on: 100, off: 20}",
    "switch, toggle": "kind: switch, toggle: {press: 127, release: 1}, powers-up: off",
    "choice": "kind: choice, values: {tape: 1-40, clean: 41, grain: 90-127}, send: {grain: 127}",
    "level": "kind: level, range: [0 %, 100 %], codes: [1, 101]",
    "time": "kind: time, range: [0 ms, 1260 ms], codes: [1, 127]",
    "trigger": "kind: trigger, codes: {fire: 90}",
}
"""What a definition writes for each kind on a carrier of seven bits."""

FOURTEEN = {
    "switch": "kind: switch, codes: {on: 12345, off: 20}",
    "switch, toggle": "kind: switch, toggle: {press: 16383, release: 0}, powers-up: off",
    "choice": "kind: choice, values: {tape: 0-127, clean: 128, grain: 9000-16383}, send: {grain: 16383}",
    "level": "kind: level, range: [-100 %, 100 %], codes: [0, 16383], centre: 8192",
    "time": "kind: time, range: [0 ms, 2000 ms], codes: [0, 16000]",
    "trigger": "kind: trigger, codes: {fire: 8193}",
}
"""The same on a carrier of fourteen bits."""


@dataclass(frozen=True, slots=True)
class Cell:
    """A kind on a carrier, and what stands in the control's braces in a definition."""

    kind: str
    carrier: str
    yaml: str


NO_CELL = (("level", "program"), ("time", "program"))
"""A level or a time would take every program number of the device."""

MATRIX = tuple(
    Cell(kind, carrier, f"{keys}, {CARRIERS[carrier]}")
    for carrier in CARRIERS
    for kind, keys in (FOURTEEN if carrier in WIDE else SEVEN).items()
    if (kind, carrier) not in NO_CELL
)
"""Carrier by carrier: each kind that it can hold."""
