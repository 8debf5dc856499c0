"""What a receiver remembers of each channel it listens on: bank select and the parameter's number.

A channel has one row of `WIDTH` numbers, `NOT_KNOWN` where nobody knows. RPN and NRPN keep their
numbers apart, and `KIND` says which of the two came last.
"""

from __future__ import annotations

from collections.abc import Sequence

from switchmatrix.definition.programs import BankSelect

NOT_KNOWN = -1

WIDTH = 7
BANK_UPPER, BANK_LOWER, KIND, RPN_UPPER, RPN_LOWER, NRPN_UPPER, NRPN_LOWER = range(WIDTH)
REGISTERED, NOT_REGISTERED = 1, 0

NULL = 127
"""Both halves of the number that addresses nothing (MIDI 1.0 Detailed Specification 4.2.1, p. 18)."""

CONTROLLERS = {
    0: BANK_UPPER,
    32: BANK_LOWER,
    98: NRPN_LOWER,
    99: NRPN_UPPER,
    100: RPN_LOWER,
    101: RPN_UPPER,
}
"""The control change that fills each (MIDI Association, Control Change Messages, Table 3)."""

DATA_UPPER, DATA_LOWER, INCREMENT, DECREMENT, RESET_ALL = 6, 38, 96, 97, 121
"""Control changes that act on what was addressed, and the one that addresses nothing again."""


def bank_of(row: int, registers: Sequence[int], scheme: BankSelect | None) -> int | None:
    """The bank that a program change would be looked up in; None without bank select."""
    if scheme is None:
        return None
    upper, lower = registers[row * WIDTH + BANK_UPPER], registers[row * WIDTH + BANK_LOWER]
    if scheme is BankSelect.MSB:
        return upper
    if scheme is BankSelect.LSB:
        return lower
    return NOT_KNOWN if NOT_KNOWN in (upper, lower) else upper * 128 + lower


def bank_halves(number: int, scheme: BankSelect) -> tuple[int, int]:
    """What stands in the two bank registers of a device that is in a bank, as far as it reads them."""
    if scheme is BankSelect.MSB:
        return number, NOT_KNOWN
    if scheme is BankSelect.LSB:
        return NOT_KNOWN, number
    return divmod(number, 128)
