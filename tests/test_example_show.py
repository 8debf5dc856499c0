"""The example show is of touring size, and uses all that the schemas of its files offer.

What they offer is read from the schemas: every key at each of its places, every form that a value may
take (one value, a list, a block), every value of an enum. The schema cannot tell the words that stand
in a control's place, so these are listed here, and what the show leaves out is listed with its reason.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations, pairwise
from pathlib import Path
from typing import get_args

import pytest
from jsonschema import Draft202012Validator

from switchmatrix.compile.plan import LegPlan
from switchmatrix.definition.carriers import Carrier
from switchmatrix.model.show import Leg
from switchmatrix.pipeline import judge, kind_of, plan
from switchmatrix.source import Span
from switchmatrix.states.state import AsPatch, DeviceState, PatchIn, Set, State
from switchmatrix.syntax.nodes import Mapping, Node, Scalar, Sequence, plain_value
from switchmatrix.syntax.shapes import FILES, KINDS, SCALARS, Schema

SONGS = Path(__file__).parents[1] / "songs"
PATHS = sorted(path.relative_to(SONGS).as_posix() for path in SONGS.rglob("*.yaml"))
SHOW = judge(SONGS)
LEGS = {(leg.leg.name, leg.rig.id): leg for leg in plan(SHOW)}
SUMMER_A, SUMMER_B = LEGS["summer-season", "a-rig"], LEGS["summer-season", "b-rig"]
WINTER_A, WINTER_B = LEGS["winter-tour", "a-rig-tour"], LEGS["winter-tour", "b-rig"]
WORKSHOP = LEGS["workshop", "bench"]
TOURING = {run: leg for run, leg in LEGS.items() if run[0] != "workshop"}
"""The legs that play the show; the workshop plays a round to boxes on a bench."""
DEVICES = sorted({(leg.rig.id, device.name) for leg in TOURING.values() for device in leg.rig.devices})

WORDS = (
    ("song", "as stored"),
    ("song", "home"),
    ("song", "leave"),
    ("song", "now"),
    ("rig", "nothing"),
    ("definition", "nothing"),
    ("definition", "recalls"),
    ("definition", "toggles engage"),
)
"""Words that stand for a value, each with the kind of file that says it: there it is no other word."""

LEFT_OUT = {
    "definition.hazard",  # nothing hazardous compiles, so no sound show has one
    "definition.controls.*.hazard",
    "song: rate 30 drop",  # the house's projection runs at 25 frames, the silent film at 24
    "song: rate 30",
    "show.ask-after-fault",  # somebody sits at this show's keyboard, so a person is asked
    "show: yes-no yes",  # nothing else of a show is said with yes or no
    "show: yes-no no",
    "show: land on time",  # a show lands in one of two ways; songs and scenes have the other
}


@dataclass(frozen=True, slots=True)
class Offer:
    """Something that the schemas offer; `text` is what a line that uses it holds, for a form nothing."""

    name: str
    text: str


EVERY_KIND = frozenset.intersection(*(frozenset(keys["properties"]) for keys in KINDS.values()))
"""Keys (the carriers among them) that every kind of control has: one use of each is enough."""


def key_at(at: str, key: str) -> Offer:
    """A key at its place; `(level)` in a place is the kind of the control."""
    return Offer(f"{re.sub(r' [(].*[)]$', '', at) if key in EVERY_KIND else at}.{key}", f"{key}:")


def word(at: str, scalar: str, text: str) -> Offer:
    """A value of a scalar, in the kind of file that its place is in."""
    return Offer(f"{at.partition('.')[0]}: {scalar} {text}", text)


def form(shape: Schema, what: str) -> Offer:
    """A form of a value; lines look alike wherever they stand, so their forms count once."""
    text = re.sub(r'"#/[$]defs/(.*?)"', lambda ref: str(SCALARS[ref[1]]), json.dumps(shape))
    return Offer(f"{text} {what}", "")


def by_form(shape: Schema) -> str:
    """`list` or `block` where the shape has another form beside it; else nothing."""
    test = shape["if"]
    return {"array": "list", "object": "block"}[test["type"]] if set(test) == {"type"} else ""


def by_kind(shape: Schema) -> str:
    """The kind of control that the shape is chosen by, ` (level)`; else nothing."""
    return "".join(f" ({one['const']})" for one in shape["if"].get("properties", {}).values())


def offered(shape: Schema, at: str) -> Iterator[tuple[Offer, str]]:
    """All that a shape offers below its place, each with the place, for people."""
    if "$ref" in shape:
        scalar = shape["$ref"].rpartition("/")[2]
        for choice in SCALARS[scalar]["anyOf"]:
            for value in choice.get("enum", ()):
                yield word(at, scalar, str(value)), at
    elif "if" in shape:
        if by_form(shape):
            yield form(shape, by_form(shape)), f"{at} as a {by_form(shape)}"
            if "$ref" in shape["else"]:
                yield form(shape, "value"), f"{at} as one value"
        yield from offered(shape["then"], at + by_kind(shape))
        # Past the last kind of control stands a shape for a kind that there is not.
        if "if" in shape["else"] or not by_kind(shape):
            yield from offered(shape["else"], at)
    elif shape["type"] == "array":
        yield from offered(shape["items"], f"{at}[]")
    else:
        for key, inner in shape.get("properties", {}).items():
            yield key_at(at, key), at
            yield from offered(inner, key_at(at, key).name)
        if isinstance(shape["additionalProperties"], dict):
            yield from offered(shape["additionalProperties"], f"{at}.*")


def used(shape: Schema, at: str, node: Node, key: Span) -> Iterator[tuple[Offer, Span]]:
    """What of a shape's offers a node uses, each with where."""
    if "$ref" in shape:
        if isinstance(node, Scalar):
            scalar = shape["$ref"].rpartition("/")[2]
            yield word(at, scalar, node.text), node.span
    elif "if" in shape:
        fits = Draft202012Validator(shape["if"]).is_valid(plain_value(node))
        if by_form(shape) and fits:
            yield form(shape, by_form(shape)), key
        elif by_form(shape) and "$ref" in shape["else"]:
            yield form(shape, "value"), key
        yield from used(shape["then" if fits else "else"], at + (by_kind(shape) if fits else ""), node, key)
    elif isinstance(node, Sequence):
        for item in node.items:
            yield from used(shape["items"], f"{at}[]", item, item.span)
    elif isinstance(node, Mapping):
        for name, value in node:
            inner = shape.get("properties", {}).get(name.text)
            if inner is not None:
                yield key_at(at, name.text), name.span
                yield from used(inner, key_at(at, name.text).name, value, name.span)
            else:
                yield from used(shape["additionalProperties"], f"{at}.*", value, name.span)


OFFERED: dict[Offer, str] = {}
for _kind, _shape in FILES.items():
    for _offer, _place in offered(_shape, _kind):
        OFFERED.setdefault(_offer, _offer.name if _offer.text else _place)
OFFERED |= {word(kind, "value", text): f"{kind}: value {text}" for kind, text in WORDS}


def uses(nodes: dict[str, Node]) -> dict[Offer, Span]:
    """Where the files use each offer first."""
    first: dict[Offer, Span] = {}
    for path, node in nodes.items():
        for offer, span in used(FILES[kind_of(path)], kind_of(path), node, node.span):
            first.setdefault(offer, span)
    return first


def unused(nodes: dict[str, Node]) -> list[str]:
    """The offers that the files make no use of, by name."""
    found = uses(nodes)
    return sorted(name for offer, name in OFFERED.items() if offer not in found)


USED = {OFFERED[offer]: (offer, span) for offer, span in uses(SHOW.nodes).items() if offer in OFFERED}


def test_all_that_the_schemas_offer_is_used_but_what_is_left_out_with_a_reason() -> None:
    assert unused(SHOW.nodes) == sorted(LEFT_OUT)


# The line is read from the file's text, so that a use is not taken on the walk's own word.
@pytest.mark.parametrize(("offer", "span"), USED.values(), ids=USED)
def test_the_line_that_uses_an_offer_holds_it(offer: Offer, span: Span) -> None:
    assert offer.text in (SONGS / span.path).read_text(encoding="utf-8").splitlines()[span.line - 1]


@pytest.mark.parametrize(
    ("path", "lost"),
    [
        ("rigs/bench-short.yaml", ["rig.without"]),
        (
            "definitions/bend-filter.yaml",
            ["definition.controls.*.channel-pressure", "definition.controls.*.pitch-bend"],
        ),
        ("ice-in-the-roads.yaml", ["song: rate 24"]),
        ("definitions/three-channel-amp.yaml", ["definition.controls.* (choice).send"]),
    ],
)
def test_a_gap_is_said_by_its_name(path: str, lost: list[str]) -> None:
    without = {other: node for other, node in SHOW.nodes.items() if other != path}
    assert unused(without) == sorted([*LEFT_OUT, *lost])


@pytest.mark.parametrize("path", PATHS)
def test_the_first_lines_name_the_schema_and_say_that_the_data_are_invented(path: str) -> None:
    schema, comment = (SONGS / path).read_text(encoding="utf-8").splitlines()[:2]
    up = "../" if "/" in path else ""
    assert schema == f"# yaml-language-server: $schema={up}schemas/{kind_of(path)}.json"
    assert re.match(r"# .*\b[Ii]nvented\b", comment)


def test_nothing_is_found_in_the_show_not_even_a_hint() -> None:
    assert SHOW.found == []


def songs_of(leg: Leg) -> list[str]:
    """The songs of a setlist, in order."""
    return [item.name for item in leg.setlist if not item.standing]


def by_device(state: State) -> dict[str, DeviceState]:
    return {device.device.name: device for device in state.devices}


def differing(one: State, other: State) -> list[str]:
    """The devices that two states set apart."""
    return [name for name, device in by_device(other).items() if by_device(one)[name].key != device.key]


def test_there_are_nine_songs_or_more() -> None:
    assert len({song for leg in TOURING.values() for song in songs_of(leg.leg)}) >= 9


@pytest.mark.parametrize("leg", TOURING.values(), ids=map("/".join, TOURING))
def test_a_rigs_songs_have_forty_states_or_more_in_each_leg(leg: LegPlan) -> None:
    assert len({one.scene.state.key for song in leg.songs if song.number for one in song.scenes}) >= 40


# The first visit of a song sends everything, so it does not count.
@pytest.mark.parametrize(("rig", "device"), DEVICES, ids=map(" ".join, DEVICES))
def test_a_device_is_sent_something_inside_three_songs_or_more(rig: str, device: str) -> None:
    moving = {
        song.states.song.song.id
        for leg in TOURING.values()
        if leg.rig.id == rig
        for song in leg.songs
        if song.number and any(m.step.device == device for v in song.visits[1:] for m in v.messages)
    }
    assert len(moving) >= 3


@pytest.mark.parametrize("device", [device.name for device in WORKSHOP.rig.devices])
def test_a_device_on_the_bench_is_sent_something_in_two_changes_or_more(device: str) -> None:
    visits = [visit for song in WORKSHOP.songs for visit in song.visits[1:]]
    assert sum(any(m.step.device == device for m in visit.messages) for visit in visits) >= 2


# High nibble of each status byte, and F0 (MIDI 1.0 Detailed Specification 4.2.1, Tables I and VI).
def test_the_bench_is_sent_each_kind_of_message_that_carries_a_control() -> None:
    first = [m.step.data[0] for song in WORKSHOP.songs for visit in song.visits for m in visit.messages]
    assert {status & 0xF0 for status in first} == {0x80, 0x90, 0xB0, 0xC0, 0xD0, 0xE0, 0xF0}


def carriers_used() -> set[tuple[str, str]]:
    """Each kind of control with the carriers that it has in the definitions that the rigs use."""
    devices = [device for leg in LEGS.values() for device in leg.rig.devices]
    return {(c.kind, type(c.carrier).__name__) for d in devices for c in d.definition.controls}


@pytest.mark.parametrize("carrier", get_args(Carrier))
def test_every_carrier_is_used_by_a_rigs_device(carrier: type[object]) -> None:
    assert carrier.__name__ in {used for _, used in carriers_used()}


@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_of_control_travels_on_two_carriers_or_more(kind: str) -> None:
    assert len({carrier for owner, carrier in carriers_used() if owner == kind}) >= 2


def test_every_definition_hangs_on_a_rig_or_is_absent_from_one() -> None:
    rigs = [leg.rig for leg in LEGS.values()]
    hung = {device.definition.id for rig in rigs for device in rig.devices}
    hung |= {absent.definition.id for rig in rigs for absent in rig.absents}
    assert sorted(hung) == sorted(Path(path).stem for path in PATHS if kind_of(path) == "definition")


@pytest.mark.parametrize("path", [path for path in PATHS if kind_of(path) == "definition"])
def test_a_definition_says_when_a_tech_meets_it(path: str) -> None:
    assert (SONGS / path).read_text(encoding="utf-8").splitlines()[2].startswith("# Met ")


def test_the_shelf_has_sixteen_boxes_or_more() -> None:
    assert sum(kind_of(path) == "definition" for path in PATHS) >= 16


@pytest.mark.parametrize("leg", [SUMMER_A, WINTER_A], ids=["summer", "winter"])
def test_one_visit_and_the_next_differ_in_three_devices_or_more_on_the_a_rig(leg: LegPlan) -> None:
    assert [
        (song.states.song.song.id, before.scene, after.scene)
        for song in leg.songs
        if song.number
        for before, after in pairwise(song.states.visits)
        if len(differing(before.state, after.state)) < 3
    ] == []


def test_the_winter_tour_swaps_one_song_of_the_summer_for_another() -> None:
    summer, winter = set(songs_of(SUMMER_A.leg)), set(songs_of(WINTER_A.leg))
    assert (sorted(summer - winter), sorted(winter - summer)) == (["fog-signal"], ["ice-in-the-roads"])


# Moved: songs that must be lifted out before the rest of both legs stands in one order.
def test_three_songs_or_more_have_moved_between_the_legs() -> None:
    summer, winter = songs_of(SUMMER_A.leg), songs_of(WINTER_A.leg)
    both = [song for song in summer if song in winter]
    in_order = [
        kept
        for count in range(len(both) + 1)
        for kept in combinations(both, count)
        if list(kept) == sorted(kept, key=winter.index)
    ]
    assert len(both) - max(map(len, in_order)) >= 3


def said(device: DeviceState) -> tuple[object, ...]:
    """What a device's state says, with patches by their names: a patch that has moved is no change."""
    patch = device.patch.patch.name if isinstance(device.patch, PatchIn) else device.patch
    return (patch, *(c.code if isinstance(c, Set | AsPatch) else c for c in device.controls))


def scenes(leg: LegPlan) -> dict[tuple[str, str], set[tuple[object, ...]]]:
    """What each scene of a leg's songs says, by song and scene, at whatever tempos it comes."""
    found: dict[tuple[str, str], set[tuple[object, ...]]] = {}
    for song in leg.songs:
        for one in song.scenes if song.number else ():
            states = found.setdefault((song.states.song.song.id, one.scene.scene), set())
            states.add(tuple(said(device) for device in one.scene.state.devices))
    return found


@pytest.mark.parametrize(
    ("summer", "winter"), [(SUMMER_A, WINTER_A), (SUMMER_B, WINTER_B)], ids=["A rig", "B rig"]
)
def test_five_scenes_or_more_of_songs_in_both_legs_have_changed(summer: LegPlan, winter: LegPlan) -> None:
    before, after = scenes(summer), scenes(winter)
    assert len([scene for scene in before.keys() & after if before[scene] != after[scene]]) >= 5


def panel_numbers(leg: LegPlan) -> set[tuple[str, str, str]]:
    return {(device.name, patch.name, patch.panel) for device in leg.rig.devices for patch in device.patches}


def test_the_tour_rig_has_one_patch_at_another_number() -> None:
    at_home, on_tour = panel_numbers(SUMMER_A), panel_numbers(WINTER_A)
    assert (at_home - on_tour, on_tour - at_home) == ({("echo", "cliff", "17")}, {("echo", "cliff", "18")})


# Program change on channel 6 is C5 (MIDI 1.0 Detailed Specification 4.2.1, Table I); the echo's panel
# counts from 1, so 4, 17 or 18, and 22 are 03, 10 or 11, and 15 on the wire.
@pytest.mark.parametrize(
    ("leg", "programs"),
    [(SUMMER_A, {"c503", "c510", "c515"}), (WINTER_A, {"c503", "c511", "c515"})],
    ids=["summer", "winter"],
)
def test_the_same_songs_call_the_echos_patches_by_each_rigs_own_numbers(
    leg: LegPlan, programs: set[str]
) -> None:
    sent = [m.step.data.hex() for song in leg.songs for visit in song.visits for m in visit.messages]
    assert {data for data in sent if data.startswith("c5")} == programs
