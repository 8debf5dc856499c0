"""On tiny shows every other way is tried: none of fewer recalls, or as many and fewer bytes, is sure."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import chain, combinations, product

from hypothesis import assume, event, given, note, settings

from switchmatrix.pipeline import Judged
from tests.compile.drawn import COUNT, shows
from tests.compile.receiver import Box, differences
from tests.compile.shown import on_the_wire
from tests.compile.shows import AS_STORED, PATCH, Control, Device, Meaning, Show, meaning
from tests.support import judged

Way = tuple[bytes, ...]


def cost(device: Device, way: Way) -> tuple[int, int]:
    """Recalls, then bytes. A program that carries a control is no recall."""
    carried = [code for c in device.controls if c.cc is None for _, code in c.words]
    recalls = [m for m in way if m[0] & 0xF0 == 0xC0 and m[1] not in carried]
    return len(recalls), sum(map(len, way))


def ways(device: Device, wants: Meaning) -> Iterator[Way]:
    """Every way there: the wanted patch's program once or not at all, then any of the wanted codes."""
    recalls: list[Way] = [()]
    if wants.program is not None:
        recalls.append((bytes((0xC0 | device.channel - 1, wants.program)),))
    codes = [_message(device, c, wants.codes[c.name]) for c in device.controls if c.name in wants.codes]
    subsets = chain.from_iterable(combinations(codes, n) for n in range(len(codes) + 1))
    for recall, rest in product(recalls, list(subsets)):
        yield recall + rest


def _message(device: Device, control: Control, code: int) -> bytes:
    if control.cc is None:
        return bytes((0xC0 | device.channel - 1, code))
    return bytes((0xB0 | device.channel - 1, control.cc, code))


@dataclass(frozen=True, slots=True)
class Past:
    """What was true of the box: the state it was in (None: unknown), and who may have moved what since."""

    before: Meaning | None
    hands: frozenset[str]
    ccs: frozenset[int]
    called: bool
    carried: bool

    def stands(self, device: Device, control: Control) -> int | str | None:
        """A control's code, `as stored`, or None where it may stand anywhere."""
        flipped = device.repeat == f"toggles {control.name}"
        moved = control.name in self.hands or control.cc in self.ccs
        moved = moved or (self.called and (control.stored or flipped))
        moved = moved or (self.carried and control.cc is None)
        if self.before is None or moved:
            return None
        return AS_STORED if control.name in self.before.stored else self.before.codes.get(control.name)


def past(show: Show, before: str | None) -> Past:
    """The past of a show's only box after a scene, or as it is found."""
    device = show.devices[0]
    foreign = [c for c in show.controllers if (c.port, c.channel) == (device.port, device.channel)]
    programs = any(c.programs for c in foreign)
    hands = frozenset(control for _, control in show.hands)
    ccs = frozenset(cc for c in foreign for cc in c.ccs)
    state = meaning(show, dict(show.scenes)[before], device) if before is not None else None
    return Past(state, hands, ccs, programs or PATCH in hands, programs)


def worlds(device: Device, past: Past, wants: Meaning) -> list[Box]:
    """Every way in which the box may stand, as far as it matters.

    A code that may be anything is the wanted one or another, so is a program; of what is stored, only
    what the wanted patch holds can matter.
    """
    two = {c.name: _two(c, wants) for c in device.controls}
    target = wants.program if wants.program is not None else 0
    was = past.before.program if past.before is not None and not past.called else None
    programs = [target, (target + 1) % COUNT] if was is None else [was]
    listed = device.listed(target)
    unlisted = [c.name for c in device.controls if c.stored and c.name not in listed]
    also = [False, True] if device.repeat.startswith("toggles") else [False]
    out = []
    for memory in product(*(two[name] for name in unlisted)):
        holds = listed | dict(zip(unlisted, memory, strict=True))
        stands = [
            _codes(past.stands(device, c), two[c.name], holds[c.name] if c.stored and was == target else None)
            for c in device.controls
        ]
        for program, codes, more in product(programs, product(*stands), also):
            named = {c.name: code for c, code in zip(device.controls, codes, strict=True)}
            out.append(Box(device, program, named, dict.fromkeys(range(device.count), holds), more))
    return out


def _two(control: Control, wants: Meaning) -> list[int]:
    """The wanted code, if there is one, and others: two in all."""
    every = [code for _, code in control.words] or [0, 1, 2]
    wanted = [wants.codes[control.name]] if control.name in wants.codes else []
    return [*wanted, *(code for code in every if code not in wanted)][:2]


def _codes(stands: int | str | None, two: list[int], stored: int | None) -> list[int]:
    """The codes that a control may stand at; `stored` is what the wanted patch holds, if the box is in it."""
    if isinstance(stands, int):
        return [stands]
    return two if stands is None or stored is None else [stored]


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
    costs = (cost(device, way) for way in ways(device, wants) if sure(way, boxes, wants))
    return min(costs, default=None)


def way_of(compiled: Judged, before: str | None, label: str) -> Way:
    """The compiler's way."""
    return tuple(data for _, data, _ in on_the_wire(compiled, label, before))


@settings(max_examples=100)
@given(shows(most_devices=1, names=False))
def test_no_sure_way_has_fewer_recalls_or_as_many_and_fewer_bytes(show: Show) -> None:
    note("\n".join(f"== {path}\n{text}" for path, text in show.files().items()))
    compiled = judged(show.files(), base=None)
    assume(compiled.sound)
    costs = {pair: cost(show.devices[0], way_of(compiled, *pair)) for pair in transitions(show)}
    event(f"{sum(recalls for recalls, _ in costs.values())} recalls")
    assert costs == {pair: fewest(show, *pair) for pair in transitions(show)}


@settings(max_examples=100)
@given(shows(most_devices=1, names=False, complete=0).map(lambda show: replace(show, hands=())))
def test_a_show_is_left_to_repeat_exactly_where_no_way_of_some_transition_is_sure(show: Show) -> None:
    note("\n".join(f"== {path}\n{text}" for path, text in show.files().items()))
    errors = {d.name for d in judged(show.files(), base=None).found if d.severity == "error"}
    unsure = [pair for pair in transitions(show) if fewest(show, *pair) is None]
    event("unsure" if unsure else "sure")
    assert errors == ({"left-to-repeat"} if unsure else set())
