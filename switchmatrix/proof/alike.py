"""Origins from which a goal is reached by the same messages: proved at once, from all of them together.

What a device is sent hangs on its patch and bank, and for each control on whether it stands where it is
wanted; where exactly it stands otherwise matters only for switches that are flipped, for what a mute
holds, and for the upper half of a 14-bit pair. Of what a sure recall loads not even that matters. That
the compiler goes by nothing else is held against it again and again (`proof/device.py`), and by tests.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from switchmatrix.compile.known import UNKNOWN, DeviceKnown, Standing, Unknown
from switchmatrix.definition.carriers import Cc14Carrier
from switchmatrix.definition.programs import Repeat
from switchmatrix.midi.numbers import Address, WireBank
from switchmatrix.model.rig import Device
from switchmatrix.proof.goal import Goal, Origin
from switchmatrix.states.state import PatchIn

Bits = int
"""A set of origins: bit n for the one of that number."""


@dataclass(frozen=True, slots=True)
class Alike:
    """Origins by number; `known` is what is known of them all: unknown where they differ."""

    known: DeviceKnown
    members: Bits


class Origins:
    """Where a part may come from, by what a goal can tell apart.

    `exact` are controls (by index) of which it matters where they stand.
    """

    def __init__(self, device: Device, every: list[Origin], exact: frozenset[int]) -> None:
        self.device, self.every = device, every
        flipped = {n for n, c in enumerate(device.definition.controls) if c.toggle is not None}
        self.exact = exact | flipped
        self.by_place: dict[tuple[Address | Unknown, WireBank | Unknown | None], Bits] = {}
        by_standing: list[dict[Standing, Bits]] = [{} for _ in device.definition.controls]
        for number, origin in enumerate(every):
            bit, known = 1 << number, origin.known
            place = (known.patch, known.bank)
            self.by_place[place] = self.by_place.get(place, 0) | bit
            for n, stands in enumerate(known.controls):
                if stands is not UNKNOWN:
                    by_standing[n][stands] = by_standing[n].get(stands, 0) | bit
        self.by_standing = [(n, found) for n, found in enumerate(by_standing) if found]

    def alike(self, goal: Goal) -> Iterator[Alike]:
        """All origins, in groups."""
        for (patch, bank), members in self.by_place.items():
            loaded = self._loaded(patch, goal)
            groups: list[tuple[Bits, dict[int, Standing]]] = [(members, {})]
            for n, found in self.by_standing:
                if n not in loaded:
                    groups = [
                        (piece, {**stands, n: at})
                        for bits, stands in groups
                        for piece, at in self._split(bits, n, found, goal)
                    ]
            for bits, stands in groups:
                yield Alike(self._known(patch, bank, bits, stands), bits)

    def _loaded(self, patch: Address | Unknown, goal: Goal) -> frozenset[int]:
        """The controls that are loaded on the way, wherever they stand."""
        programs, wanted = self.device.definition.programs, goal.state.patch
        if programs is None or not isinstance(wanted, PatchIn) or patch == wanted.patch.address:
            return frozenset()
        if programs.repeat is not Repeat.RECALLS and (
            isinstance(patch, Unknown) or programs.called(patch) == programs.called(wanted.patch.address)
        ):
            return frozenset()
        return frozenset(n for n, c in enumerate(self.device.definition.controls) if c.stored) - self.exact

    def _split(
        self, bits: Bits, n: int, found: dict[Standing, Bits], goal: Goal
    ) -> Iterator[tuple[Bits, Standing]]:
        """The origins by where control `n` stands: unknown for all that are alike to the goal."""
        want = goal.state.wants[n]
        rest = bits
        for stands in found if self._all_matter(n) else () if want is None else (want,):
            here = bits & found.get(stands, 0)
            if here and self._matters(n, stands, want):
                yield here, stands
                rest &= ~here
        if rest:
            yield rest, UNKNOWN

    def _all_matter(self, n: int) -> bool:
        return n in self.exact or isinstance(self.device.definition.controls[n].carrier, Cc14Carrier)

    def _matters(self, n: int, stands: Standing, want: object) -> bool:
        if n in self.exact or stands == want:
            return True
        return isinstance(stands, int) and isinstance(want, int) and stands >> 7 == want >> 7

    def _known(
        self,
        patch: Address | Unknown,
        bank: WireBank | Unknown | None,
        bits: Bits,
        stands: dict[int, Standing],
    ) -> DeviceKnown:
        if bits & (bits - 1) == 0:
            return self.every[bits.bit_length() - 1].known
        count = len(self.device.definition.controls)
        return DeviceKnown(patch, bank, tuple(stands.get(n, UNKNOWN) for n in range(count)))

    def one_of(self, members: Bits, turn: int) -> Origin:
        """One of them, another one each turn."""
        turned = members >> turn % len(self.every)
        shift = turn % len(self.every) if turned else 0
        low = turned or members
        return self.every[shift + (low & -low).bit_length() - 1]

    def each_of(self, members: Bits) -> Iterator[Origin]:
        """All of them."""
        while members:
            low = members & -members
            yield self.every[low.bit_length() - 1]
            members ^= low
