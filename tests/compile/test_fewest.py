"""On tiny shows every other way is tried: none of fewer recalls, or as many and fewer bytes, is sure.

Some rules cost bytes on purpose, so ways without them are not tried: the upper half of a pair is never
sent alone, though a lower half of zero that stays would be sure; a parameter's number is sent every time,
and both halves of its data; a box that wants its bank always gets it. And a bank is not kept in mind
where a control may have left the box in another bank than its patch's (`past`).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import product
from random import Random

from hypothesis import assume, event, given, note, settings

from switchmatrix.pipeline import Judged
from tests.compile.drawn import COUNT, shows
from tests.compile.receiver import Box, Habits, differences
from tests.compile.shown import on_the_wire
from tests.compile.shows import AS_STORED, PATCH, Control, Device, Meaning, Show, meaning
from tests.support import judged

Way = tuple[bytes, ...]


def cost(device: Device, way: Way) -> tuple[int, int]:
    """Recalls, then bytes. A program that carries a control is no recall."""
    carried = [code for c in device.controls if c.carried for _, code in c.words]
    recalls = [m for m in way if m[0] & 0xF0 == 0xC0 and m[1] not in carried]
    return len(recalls), sum(map(len, way))


def ways(device: Device, wants: Meaning) -> Iterator[Way]:
    """Every way there: the wanted patch's program once or not at all, and any of the wanted codes.

    Choices that reload others go first, where no patch stores them before the recall or after it.
    """
    recalls: list[Way] = [()]
    if wants.program is not None:
        bank, number = divmod(wants.program, device.bank_size)
        recalls += _programs(device, bank if device.bank is not None else None, number)
    wanted = sorted((c for c in device.controls if c.name in wants.codes), key=lambda c: _rank(device, c))
    units = [[((), False), *_units(device, c, wants.codes[c.name])] for c in wanted]
    for recall in recalls:
        for chosen in product(*units):
            for early in product(
                *([False, True] if recall and may and unit else [False] for unit, may in chosen)
            ):
                before = [unit for (unit, _), first in zip(chosen, early, strict=True) if first]
                after = [unit for (unit, _), first in zip(chosen, early, strict=True) if not first]
                yield (*(m for unit in before for m in unit), *recall, *(m for unit in after for m in unit))


def _rank(device: Device, control: Control) -> int:
    """Where a control stands among those that reload each other."""
    above = [c for c in device.controls if control.name in device.below(c.name)]
    return len(above) - (5 if control.resets else 0)


def _units(device: Device, control: Control, code: int) -> list[tuple[Way, bool]]:
    """The ways to set a control, and whether it may go before a recall."""
    status, may = 0xB0 | device.channel - 1, bool(control.resets) and not control.stored

    def ccs(*pairs: tuple[int, int]) -> Way:
        return tuple(bytes((status, number, value)) for number, value in pairs)

    if control.carried:
        return [(way, may) for way in _programs(device, control.bank, code)]
    if control.nrpn is not None:
        number = ((99, control.nrpn[0]), (98, control.nrpn[1]))
        data = ((6, code),) if control.bits == 7 else ((6, code >> 7), (38, code & 0x7F))
        return [(ccs(*number, *data), may)]
    if control.cc is None:
        raise ValueError(control)
    if control.lsb is not None:
        lower = (control.lsb, code & 0x7F)
        return [(ccs(lower), may), (ccs((control.cc, code >> 7), lower), may)]
    return [(ccs((control.cc, 127), (control.cc, 0)) if control.flips else ccs((control.cc, code)), may)]


def _programs(device: Device, bank: int | None, number: int) -> list[Way]:
    """A program change, with and without bank select."""
    channel = device.channel - 1
    change = bytes((0xC0 | channel, number))
    if bank is None or device.bank is None:
        return [(change,)]
    halves = {"cc0": ((0, bank),), "cc32": ((32, bank),), "both": ((0, bank >> 7), (32, bank & 0x7F))}
    select = tuple(bytes((0xB0 | channel, cc, value)) for cc, value in halves[device.bank])
    return [(*select, change)] if device.always else [(change,), (*select, change)]


@dataclass(frozen=True, slots=True)
class Past:
    """What was true of the box: the state it was in (None: unknown), and who may have moved what since.

    `moved` are controls that someone may have moved; `bank` where it is known.
    """

    before: Meaning | None
    moved: frozenset[str]
    called: bool
    bank: int | None

    def stands(self, control: Control) -> int | str | None:
        """A control's code, `as stored`, or None where it may stand anywhere."""
        if self.before is None and control.powers_up is not None:
            return control.code(control.powers_up)
        if self.before is None or control.name in self.moved:
            return None
        return AS_STORED if control.name in self.before.stored else self.before.codes.get(control.name)


def past(show: Show, before: str | None) -> Past:
    """The past of a show's only box after a scene, or as it is found."""
    device = show.devices[0]
    foreign = [c for c in show.controllers if (c.port, c.channel) == (device.port, device.channel)]
    ccs = {cc for c in foreign for cc in c.ccs}
    hands = {control for _, control in show.hands}
    programs = any(c.programs for c in foreign)
    called = (programs and device.count > 0) or PATCH in hands
    moved = {
        c.name
        for c in device.controls
        if c.name in hands
        or not ccs.isdisjoint({c.cc, c.lsb, *((6, 38) if c.nrpn is not None else ())} - {None})
        or (called and (c.stored or device.repeat == f"toggles {c.name}"))
        or (programs and c.carried)
    }
    moved |= {below for name in moved for below in device.below(name)}
    state = meaning(show, dict(show.scenes)[before], device) if before is not None else None
    bank = None
    if state is not None and state.program is not None and not called and ccs.isdisjoint({0, 32}):
        bank = state.program // device.bank_size
        bank = None if any(c.carried and c.bank != bank for c in device.controls) else bank
    return Past(state, frozenset(moved), called, bank)


def worlds(device: Device, past: Past, wants: Meaning) -> list[Box]:
    """Every way in which the box may stand, as far as it matters.

    What a control does in the end depends on nobody's code but its own: each takes all its turns while
    the others take theirs. Of what is stored, only what the wanted patch holds can matter.
    """
    target = wants.program if wants.program is not None else 0
    was = past.before.program if past.before is not None and not past.called else None
    programs = [target, (target + 1) % COUNT] if was is None else [was]
    carriers = [c.bank for c in device.controls if c.carried and c.bank is not None]
    banks = [past.bank] if past.bank is not None else sorted({target // device.bank_size, *carriers, 5})
    repeats = [(False, False), (True, False), (True, True)]
    if not device.repeat.startswith("toggles"):
        repeats = repeats[:1]
    out = []
    for program, bank, repeat, zeroes in product(programs, banks, repeats, (False, True)):
        turns = {c.name: _turns(device, past, c, wants, target, was) for c in device.controls}
        for n in range(max(len(turn) for turn in turns.values())):
            now = {name: turn[n % len(turn)] for name, turn in turns.items()}
            holds = {c.name: now[c.name][1] for c in device.controls if c.stored}
            out.append(
                Box(
                    device,
                    program,
                    {name: code for name, (code, _, _) in now.items()},
                    dict.fromkeys(range(device.count), holds),
                    Habits(*repeat, zeroes, {name: reload for name, (_, _, reload) in now.items()}),
                    bank={"cc0": (bank, 0), "cc32": (0, bank)}.get(device.bank or "", divmod(bank, 128)),
                )
            )
    Random(0).shuffle(out)
    return out


def _turns(
    device: Device, past: Past, control: Control, wants: Meaning, target: int, was: int | None
) -> list[tuple[int, int, int]]:
    """Where a control may stand, what the wanted patch may hold of it, what it may be reloaded to."""
    some = _some(control, wants)
    listed = device.listed(target).get(control.name)
    holds = some if listed is None else [listed]
    reset = any(control.name in device.below(c.name) for c in device.controls)
    stands = past.stands(control)
    out = []
    for hold, reload in product(holds, some if reset else some[:1]):
        if isinstance(stands, int):
            codes = [stands]
        elif stands == AS_STORED and was == target:
            codes = [hold]
        else:
            codes = some
        out += [(code, hold, reload) for code in codes]
    return out


def _some(control: Control, wants: Meaning) -> list[int]:
    """The wanted code, if there is one, and others: a pair's with one half right, and with none."""
    every = [code for _, code in control.words] or [0, 1, 2]
    wanted = [wants.codes[control.name]] if control.name in wants.codes else []
    if wanted and control.wide:
        return [wanted[0], wanted[0] ^ 1, wanted[0] ^ 128, wanted[0] ^ 129]
    return [*wanted, *(code for code in every if code not in wanted)][:2]


def sure(way: Way, boxes: list[Box], wants: Meaning) -> bool:
    """Whether every box that hears the messages ends as the scene means."""
    for stood in boxes:
        box = replace(stood, codes=dict(stood.codes))
        for message in way:
            box.hear(message)
        if differences(box, wants):
            return False
    return True


def transitions(show: Show) -> Iterator[tuple[str | None, str]]:
    """From unknown to each scene, and from each scene to each."""
    labels = [label for label, _ in show.scenes]
    yield from product([None, *labels], labels)


def fewest(show: Show, before: str | None, label: str) -> tuple[int, int] | None:
    """What the best of all sure ways costs; None where no way is sure."""
    device = show.devices[0]
    wants = meaning(show, dict(show.scenes)[label], device)
    boxes = worlds(device, past(show, before), wants)
    every = sorted(set(ways(device, wants)), key=lambda way: cost(device, way))
    return next((cost(device, way) for way in every if sure(way, boxes, wants)), None)


def way_of(compiled: Judged, before: str | None, label: str) -> Way:
    """The compiler's way."""
    return tuple(data for _, data, _ in on_the_wire(compiled, label, before))


@settings(max_examples=100)
@given(shows(most_devices=1, names=False, mutes=0))
def test_no_sure_way_has_fewer_recalls_or_as_many_and_fewer_bytes(show: Show) -> None:
    note("\n".join(f"== {path}\n{text}" for path, text in show.files().items()))
    compiled = judged(show.files(), base=None)
    assume(compiled.sound)
    costs = {pair: cost(show.devices[0], way_of(compiled, *pair)) for pair in transitions(show)}
    event(f"{sum(recalls for recalls, _ in costs.values())} recalls")
    assert costs == {pair: fewest(show, *pair) for pair in transitions(show)}


UNSURE = {"left-to-repeat", "left-to-reset", "toggle-unsure"}


@settings(max_examples=100)
@given(shows(most_devices=1, names=False, complete=0, mutes=0).map(lambda show: replace(show, hands=())))
def test_a_show_is_unsure_exactly_where_no_way_of_some_transition_is_sure(show: Show) -> None:
    note("\n".join(f"== {path}\n{text}" for path, text in show.files().items()))
    errors = {d.name for d in judged(show.files(), base=None).found if d.severity == "error"}
    assume(errors <= UNSURE)
    unsure = [pair for pair in transitions(show) if fewest(show, *pair) is None]
    event("unsure" if unsure else "sure")
    assert bool(errors) is bool(unsure)
