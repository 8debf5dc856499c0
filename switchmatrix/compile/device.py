"""One device from what is known of it to its state: fewest recalls first, then fewest bytes."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from switchmatrix.compile.known import UNKNOWN, DeviceKnown, Standing, Unknown
from switchmatrix.definition.carriers import Cc14Carrier, ProgramCarrier
from switchmatrix.definition.programs import Programs, Repeat
from switchmatrix.midi.numbers import ChannelNumber, WireBank
from switchmatrix.model.settings import Patch
from switchmatrix.states.state import DeviceState, Free, Origin, PatchIn, StoredIn


class Trouble(Enum):
    """What a transition of one device may run into."""

    LEFT_TO_REPEAT = "a repeated program may not bring back what the patch stores"
    LEFT_TO_RESET = "a choice that is set after the recall reloads what the patch stores"
    TOGGLE_UNSURE = "a switch that can only be flipped stands nobody knows where"
    OVER_HANDS = "a repeated recall overwrites what the player holds"


@dataclass(frozen=True, slots=True)
class Recall:
    """The device recalls a patch; `select` where bank select goes before the program."""

    patch: Patch
    select: bool
    origin: Origin


@dataclass(frozen=True, slots=True)
class Send:
    """The control at `index` of the definition takes a code.

    `fine` where the upper half of a 14-bit pair is known to stand already; `select` where bank select
    goes before it.
    """

    index: int
    code: int
    fine: bool
    select: bool
    origin: Origin


@dataclass(frozen=True, slots=True)
class DeviceTransition:
    """What one device is sent: choices before the recall, the recall, the rest.

    `after` is where the controls stood once the recall was done, before `sends`. `moved` are the
    controls (by index) that any of it moves. `troubles` name the controls that are in trouble.
    """

    prepare: tuple[Send, ...]
    recall: Recall | None
    sends: tuple[Send, ...]
    after: tuple[Standing, ...]
    moved: frozenset[int]
    troubles: tuple[tuple[Trouble, int], ...]


def device_transition(known: DeviceKnown, state: DeviceState) -> DeviceTransition:
    """The messages of one device: what differs after the transition's own recall and resets.

    A choice that no patch stores goes before the recall, which then mends what it reloads, unless one
    that is set later reloads it: set twice, it would only cost.
    """
    definition = state.device.definition
    above = tuple(n for n in definition.order.resetting if not definition.controls[n].stored)
    if above:
        move = _walked(known, state, definition.order.first + above)
        again = {send.index for send in move.prepare} & {send.index for send in move.sends}
        if not again:
            return move
    return _walked(known, state, definition.order.first)


def _walked(known: DeviceKnown, state: DeviceState, first: tuple[int, ...]) -> DeviceTransition:
    """The messages of one device, the controls `first` before the recall."""
    walk = _Walk(known, state)
    order = state.device.definition.order
    for n in first:
        walk.place(n)
    prepare, walk.sends = tuple(walk.sends), []
    recall = walk.recall()
    after = tuple(walk.standing)
    walk.late = True
    for n in order.resetting:
        walk.place(n)
    for n in walk.bank_by_bank(order.others):
        walk.place(n)
    return DeviceTransition(
        prepare, recall, tuple(walk.sends), after, frozenset(walk.moved), tuple(walk.troubles)
    )


class _Walk:
    """One device on its way: where its controls stand, and what it has been sent.

    `banks` are the banks that its channels last heard.
    """

    __slots__ = ("banks", "known", "late", "moved", "reloaded", "sends", "standing", "state", "troubles")

    def __init__(self, known: DeviceKnown, state: DeviceState) -> None:
        self.known, self.state = known, state
        self.standing: list[Standing] = list(known.controls)
        self.banks: dict[ChannelNumber, WireBank | Unknown | None] = {}
        programs = state.device.definition.programs
        if programs is not None and programs.bank is not None:
            self.banks[state.device.channel_of(programs.channel)] = known.bank
        self.sends: list[Send] = []
        self.moved: set[int] = set()
        self.late = False
        self.reloaded: set[int] = set()
        self.troubles: list[tuple[Trouble, int]] = []

    def place(self, n: int) -> None:
        """Bring one control to where it is wanted."""
        want, stands = self.state.wants[n], self.standing[n]
        if want is None:
            return
        control = self.state.device.definition.controls[n]
        if n in self.state.held and control.toggle is not None:
            self.troubles.append((Trouble.TOGGLE_UNSURE, n))
        elif want == stands:
            return
        elif isinstance(want, StoredIn):
            lost = Trouble.LEFT_TO_RESET if n in self.reloaded else Trouble.LEFT_TO_REPEAT
            self.troubles.append((lost, n))
        elif control.toggle is not None and not isinstance(stands, int):
            self.troubles.append((Trouble.TOGGLE_UNSURE, n))
        else:
            self._send(n, want, stands)

    def _send(self, n: int, want: int, stands: Standing) -> None:
        definition, given = self.state.device.definition, self.state.controls[n]
        control = definition.controls[n]
        carrier = control.carrier
        fine = isinstance(carrier, Cc14Carrier) and isinstance(stands, int) and stands >> 7 == want >> 7
        select = isinstance(carrier, ProgramCarrier) and self._selects(control.channel, carrier.bank)
        if isinstance(given, Free):
            raise TypeError(f"control {n} of {self.state.device.name} is not part of the state")
        self.sends.append(Send(n, want, fine, select, given.origin))
        self.standing[n] = want
        self.moved.add(n)
        if definition.order.reloads[n]:
            below = definition.order.moved_with(definition.order.reloads[n])
            for reloaded in below:
                self.standing[reloaded] = UNKNOWN
            self.moved |= below
            if self.late:
                self.reloaded |= below

    def bank_by_bank(self, indices: tuple[int, ...]) -> tuple[int, ...]:
        """The same controls; those that travel as programs take turns so that the bank changes least.

        They go bank after bank, first the one that is chosen already, in the places that some of them had.
        """
        carried = [(n, place) for n in indices if (place := self._lies(n)) is not None]
        if len(carried) < 2:
            return indices
        places = dict.fromkeys(place for _, place in carried)
        chosen = [place for place in places if self.banks.get(place[0], UNKNOWN) == place[1]]
        turns = {place: n for n, place in enumerate(dict.fromkeys((*chosen, *places)))}
        order = iter(sorted(carried, key=lambda pair: turns[pair[1]]))
        mine = {n for n, _ in carried}
        return tuple(next(order)[0] if n in mine else n for n in indices)

    def _lies(self, n: int) -> tuple[ChannelNumber, WireBank] | None:
        """The channel and bank of a control that will be sent as a program in a bank."""
        device, want = self.state.device, self.state.wants[n]
        control = device.definition.controls[n]
        if want is None or want == self.standing[n] or not isinstance(control.carrier, ProgramCarrier):
            return None
        bank = control.carrier.bank
        return None if bank is None else (device.channel_of(control.channel), bank)

    def _selects(self, channel_name: str, bank: WireBank | None) -> bool:
        """Whether bank select goes before a program in `bank` on a channel; the bank is then chosen.

        Some boxes keep a bank for each channel and some have one for all: where the two would differ,
        nobody knows which bank another channel is in.
        """
        device, programs = self.state.device, self.state.device.definition.programs
        if programs is None or programs.bank is None:
            return False
        channel = device.channel_of(channel_name)
        select = programs.bank_always or self.banks.get(channel, UNKNOWN) != bank
        self.banks = {other: at if at == bank else UNKNOWN for other, at in self.banks.items()}
        self.banks[channel] = bank
        return select

    def recall(self) -> Recall | None:
        """The patch that the state wants, where the device may be in another or only a recall helps."""
        programs, wanted = self.state.device.definition.programs, self.state.patch
        if programs is None or not isinstance(wanted, PatchIn):
            return None
        patch = wanted.patch
        if self.known.patch != patch.address:
            pass
        elif programs.repeat is Repeat.RECALLS and any(
            self._needs(n, patch) for n in range(len(self.standing))
        ):
            self.troubles += [(Trouble.OVER_HANDS, n) for n in _held_stored(self.state)]
        else:
            return None
        select = self._selects(programs.channel, patch.address.bank)
        self._recalled(programs, patch)
        return Recall(patch, select, wanted.origin)

    def _needs(self, n: int, patch: Patch) -> bool:
        """Whether only a recall brings the control to where it is wanted."""
        want, stands = self.state.wants[n], self.standing[n]
        if isinstance(want, StoredIn):
            return want != stands
        control = self.state.device.definition.controls[n]
        lost = control.toggle is not None and want is not None and not isinstance(stands, int)
        return lost and control.stored and patch.stored(control.name) is not None

    def _recalled(self, programs: Programs, patch: Patch) -> None:
        """Where the controls stand after the program change.

        A possible repeat on a box that does nothing then, or flips a switch, leaves its stored controls
        (and the switch) unknown, but for one that already stands where the patch would put it.
        """
        unsure = programs.repeat is not Repeat.RECALLS and self.known.patch in (UNKNOWN, patch.address)
        for n, control in enumerate(self.state.device.definition.controls):
            if unsure and control.name == programs.toggled:
                self.standing[n] = UNKNOWN
                self.moved.add(n)
            elif control.stored:
                stored = patch.stored(control.name)
                sure: Standing = StoredIn(patch.address) if stored is None else stored.code
                self.standing[n] = UNKNOWN if unsure and self.standing[n] != sure else sure
                self.moved.add(n)


def _held_stored(state: DeviceState) -> list[int]:
    """Stored controls that the player holds: a recall moves them."""
    return [
        n
        for n, control in enumerate(state.device.definition.controls)
        if control.stored and state.controls[n] is Free.HELD
    ]
