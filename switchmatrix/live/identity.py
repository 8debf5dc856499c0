"""The universal Identity Request and its reply (MIDI 1.0 Detailed Specification 4.2.1, p. 40)."""

from __future__ import annotations

from dataclasses import dataclass

from switchmatrix.definition.definition import Identity

EVERY_DEVICE = 127
"""The device id that all answer to (the same, p. 35)."""

REQUEST = bytes((0xF0, 0x7E, EVERY_DEVICE, 0x06, 0x01, 0xF7))
"""Asks every device on a port who it is."""

_START, _UNIVERSAL, _GENERAL, _REQUEST, _REPLY, _END = 0xF0, 0x7E, 0x06, 0x01, 0x02, 0xF7
_AFTER_MAKER = 8
"""Bytes of family, member and version."""


@dataclass(frozen=True, slots=True)
class Reply:
    """An Identity Reply: the device id it came with, and who answers."""

    id: int
    identity: Identity


def reply(identity: Identity, id: int) -> bytes:
    """The reply of a device; a version that its definition leaves open is all zero."""
    numbers = (
        identity.family % 128,
        identity.family // 128,
        identity.member % 128,
        identity.member // 128,
    )
    version = identity.version if identity.version is not None else (0, 0, 0, 0)
    body = (_UNIVERSAL, id, _GENERAL, _REPLY, *identity.manufacturer, *numbers, *version)
    return bytes((_START, *body, _END))


def asked(body: tuple[int, ...]) -> int | None:
    """The device id that a request asks for; None for any other system exclusive. `body` lacks F0 and F7."""
    if len(body) == 4 and body[0] == _UNIVERSAL and body[2:] == (_GENERAL, _REQUEST):
        return body[1]
    return None


def read_reply(data: bytes) -> Reply | None:
    """A whole message as a reply; None for anything else, and for a reply that is cut short."""
    if len(data) < 6 or data[0] != _START or data[-1] != _END or any(byte > 127 for byte in data[1:-1]):
        return None
    if data[1] != _UNIVERSAL or data[3] != _GENERAL or data[4] != _REPLY:
        return None
    maker_bytes = 3 if data[5] == 0 else 1
    if len(data) != 6 + maker_bytes + _AFTER_MAKER:
        return None
    maker, rest = tuple(data[5 : 5 + maker_bytes]), data[5 + maker_bytes : -1]
    version = (rest[4], rest[5], rest[6], rest[7])
    return Reply(data[2], Identity(maker, rest[0] + rest[1] * 128, rest[2] + rest[3] * 128, version))


def is_cut(data: bytes) -> bool:
    """Whether bytes begin as a reply does and are none."""
    begins = len(data) >= 5 and data[1] == _UNIVERSAL and data[3] == _GENERAL and data[4] == _REPLY
    return data[:1] == bytes((_START,)) and begins and read_reply(data) is None


def maker_said(manufacturer: tuple[int, ...]) -> str:
    """`7D`, `00 20 29`."""
    return bytes(manufacturer).hex(" ").upper()


def version_said(version: tuple[int, ...] | None) -> str:
    """`0.0.1.0`; `any` where none is expected."""
    return "any" if version is None else ".".join(str(number) for number in version)


def identity_said(identity: Identity) -> str:
    """`maker 7D, family 1, member 2, version 0.0.1.0`."""
    said = f"maker {maker_said(identity.manufacturer)}, family {identity.family}, member {identity.member}"
    return f"{said}, version {version_said(identity.version)}"
