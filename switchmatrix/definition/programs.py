"""How a device's programs are called, on its panel and on the wire."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import Enum

from switchmatrix.definition.controls import MAIN
from switchmatrix.midi.numbers import Address, address, position
from switchmatrix.source import Span


class Repeat(Enum):
    """What the box does when it gets the program that it is already in."""

    NOTHING = "nothing"
    RECALLS = "recalls"
    TOGGLES = "toggles"


class BankSelect(Enum):
    """The control changes that make a device's bank select."""

    MSB = "cc0"
    LSB = "cc32"
    BOTH = "both"

    @property
    def banks(self) -> int:
        """How many banks it can tell apart."""
        return 16384 if self is BankSelect.BOTH else 128


@dataclass(frozen=True, slots=True)
class Numbers:
    """A panel that counts its programs, the first one called `first`."""

    first: int

    def label(self, at: int) -> str:
        """What the panel shows for the program at position `at`, from 0."""
        return str(at + self.first)

    def position(self, label: str) -> int | None:
        """The position of a label; None for one that the panel never shows."""
        return int(label) - self.first if label.isdecimal() and len(label) <= 9 else None


@dataclass(frozen=True, slots=True)
class BanksAndSlots:
    """A panel that shows a bank and a slot: `A1`, `01-4`, `U3`."""

    banks: tuple[str, ...]
    slots: tuple[str, ...]
    between: str

    def label(self, at: int) -> str:
        """What the panel shows for the program at position `at`, from 0."""
        bank, slot = divmod(at, len(self.slots))
        return f"{self.banks[bank]}{self.between}{self.slots[slot]}"

    def position(self, label: str) -> int | None:
        """The position of a label; None for one that the panel never shows."""
        return next(
            (
                bank * len(self.slots) + self.slots.index(slot)
                for bank, text in enumerate(self.banks)
                if label.startswith(text + self.between)
                and (slot := label[len(text + self.between) :]) in self.slots
            ),
            None,
        )


@dataclass(frozen=True, slots=True)
class Programs:
    """`count` programs as the panel shows them; a recall takes `settle_us` microseconds.

    `bank` is the bank select, `bank_size` how many programs lie in one bank of it, `bank_always` where
    it goes before every program and not only where the bank changes. `remap` says which position each
    incoming position calls, where it is another. `toggled` names the control that a repeated program
    flips, where `repeat` is TOGGLES. `moved_by_player` where his own controller calls programs.
    """

    count: int
    panel: Numbers | BanksAndSlots
    settle_us: int
    repeat: Repeat
    toggled: str | None
    span: Span = field(compare=False)
    bank: BankSelect | None = None
    bank_size: int = 128
    bank_always: bool = False
    remap: tuple[tuple[int, int], ...] = ()
    moved_by_player: bool = False
    channel: str = MAIN

    def position(self, label: str) -> int | None:
        """The position of the program that the panel shows as `label`; None where there is none."""
        at = self.panel.position(label)
        return at if at is not None and 0 <= at < self.count else None

    def address(self, at: int) -> Address | None:
        """What to send for the program at a position; None where the remap leaves none that calls it."""
        remap = dict(self.remap)
        if remap.get(at, at) == at:
            return self._sent(at)
        return next((self._sent(asked) for asked, called in self.remap if called == at), None)

    def called(self, sent: Address) -> int | None:
        """The position that an address calls, through the remap; None for one past the device's programs."""
        at = position(sent, None if self.bank is None else self.bank_size)
        return None if at is None or at >= self.count else dict(self.remap).get(at, at)

    def _sent(self, at: int) -> Address:
        return address(at, None if self.bank is None else self.bank_size)
