"""A reader for tests, from byte patterns worked out by hand: the codes that a matrix cell's bytes carry."""

from __future__ import annotations

ON_THE_WIRE = {
    "cc": "B1 50 vv",
    "cc14": "B1 0C mm B1 2C ll",
    "nrpn, 7 bits": "B1 63 01 B1 62 08 B1 06 vv",
    "nrpn, 14 bits": "B1 63 01 B1 62 08 B1 06 mm B1 26 ll",
    "rpn, 7 bits": "B1 65 00 B1 64 02 B1 06 vv B1 65 7F B1 64 7F",
    "rpn, 14 bits": "B1 65 00 B1 64 00 B1 06 mm B1 26 ll B1 65 7F B1 64 7F",
    "program": "C1 vv",
    "note": "91 3C vv",
    "pitch-bend": "E1 ll mm",
    "channel-pressure": "D1 vv",
    "sysex, one byte": "F0 7D 05 12 vv cs F7",
    "sysex, two bytes": "F0 7D 05 12 ll mm F7",
}
"""The bytes of each of the matrix's carriers on channel 2, with device id 5.

`vv` is the code, `mm` and `ll` its upper and lower seven bits; `cs` makes the low seven bits of itself
and the two bytes before it zero. Status bytes and controller numbers: MIDI 1.0 Detailed Specification
4.2.1, Tables I and III (p. T-1, T-3); parameter numbers: p. 17-18; pitch bend, LSB first: p. 19.
"""


def codes_of(carrier: str, hex_bytes: str) -> list[int]:
    """The codes that the bytes carry, one for each time that the pattern stands there."""
    pattern, got = ON_THE_WIRE[carrier].split(), hex_bytes.split()
    size = len(pattern)
    if len(got) % size:
        raise ValueError(f"{hex_bytes} is no whole number of `{ON_THE_WIRE[carrier]}`")
    return [_code(pattern, got[start : start + size]) for start in range(0, len(got), size)]


def _code(pattern: list[str], got: list[str]) -> int:
    """The code in the bytes of one pattern; ValueError where a byte is not the pattern's."""
    read: dict[str, int] = {}
    for place, part in enumerate(pattern):
        if part.islower():
            read[part] = int(got[place], 16)
        elif part != got[place]:
            raise ValueError(f"byte {place} of {got} is not {part}")
    if "cs" in read and (0x12 + read["vv"] + read["cs"]) % 128:
        raise ValueError(f"the checksum of {got} does not make its sum zero")
    return read["vv"] if "vv" in read else read["mm"] * 128 + read["ll"]
