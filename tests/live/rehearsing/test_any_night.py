"""Whatever happens in a night, each rig stands where the tool says, and the log says what the rigs heard."""

from __future__ import annotations

import tempfile
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st
from hypothesis.strategies import SearchStrategy

from switchmatrix.live.records import LATE_NS, MS
from switchmatrix.live.rehearsing.ears import OWN_US
from switchmatrix.live.rehearsing.session import Start
from switchmatrix.live.stepping.gate import Gate
from switchmatrix.live.stepping.inputs import (
    Again,
    Back,
    BringBack,
    Drive,
    Fire,
    Home,
    HomeYes,
    Input,
    Jump,
    Next,
    No,
    OutputsMuted,
    Reached,
    SetByHand,
    Silence,
    TakeOut,
)
from switchmatrix.live.stepping.state import Options
from switchmatrix.midi.wire import DIN_BYTE_US, wire_time_us
from tests.live.rehearsing.hall import WITH_FEET, Arrived, Hall
from tests.live.stepping.drawn import FROM_ELSEWHERE

RIGS = ("a-rig", "b-rig")
PORTS = [(id, port.name) for id, one in WITH_FEET.rigs.items() for port in one.rig.ports]
DEVICES = [(id, device.name) for id, one in WITH_FEET.rigs.items() for device in one.rig.devices]
KEYS = [stop.key for stop in (*WITH_FEET.stops, *WITH_FEET.others)]
MOVES = (
    *(("rack", one) for one in ("B0 15 05", "C0 06", "B4 32 09", "B2 14 01")),
    *(("floor", one) for one in ("B1 5C 01", "B5 07 10", "B3 1F 7F", "B1 5A 7F")),
)
"""What surely moves something: a level, a patch, a stored level, a choice; another choice, switches."""

SETTLES = {("rack", b"\xc0"): 35 * MS, ("floor", b"\xb1\x5c"): 10 * MS}
"""What the echo and the amp settle from, and for how long (the small show's definitions)."""

MOST_AT_ONCE = 1_000
"""No night sends as many messages in half a second."""

PEDAL, UP = bytes.fromhex("BF 40 7F"), bytes.fromhex("BF 40 00")


@dataclass(frozen=True, slots=True)
class Does:
    """Something that happens, by name: a failing night is printed as a list of these."""

    name: str
    deed: Callable[[Hall], None]

    def __repr__(self) -> str:
        return self.name


def does(*inputs: Input) -> Does:
    """A person or running time does something."""

    def deed(hall: Hall) -> None:
        for input in inputs:
            hall.it.do(input)

    return Does(", ".join(map(repr, inputs)), deed)


def cut(rig: str, away: bool, off: bool) -> Does:
    """A rig's server dies; `away` for good, `off` and its boxes lose what they knew."""

    def deed(hall: Hall) -> None:
        hall.off = off
        hall.cut(rig, away)

    return Does(f"cut {rig}{' away' * away}{' off' * off}", deed)


def elsewhere(at: tuple[str, str], data: bytes) -> Does:
    """Somebody else moves a box."""

    def deed(hall: Hall) -> None:
        # What nobody hears while a rig is lost shows when it is back: then all is in doubt.
        if hall.loops[at[0]].lost_now():
            return
        # While we send the same, and just after, nobody can tell it from our own that comes back.
        pending = hall.it.state.rig(at[0]).pending
        if any(message.step.data == data for one in pending for message in one.messages):
            hall.settle()
        if any((one.rig, one.port, one.data) == (*at, data) for one in hall.arrived[-MOST_AT_ONCE:]):
            hall.go(OWN_US / 1_000 + 1)
        if not hall.loops[at[0]].lost_now():
            hall.elsewhere(*at, data)

    return Does(f"elsewhere {at} {data.hex()}", deed)


def by_hand(hall: Hall) -> None:
    """A person puts the switches where he was told, once nothing is under way, and says so."""
    hall.settle()
    hall.put_by_hand()
    hall.it.do(SetByHand())


def stall(rig: str, ms: float) -> Does:
    """A rig's ports send nothing for so long: what is due leaves late."""
    return Does(f"stall {rig} {ms}", lambda hall: hall.stall(rig, ms))


def pedal(rig: str) -> Does:
    """The pedal for next is pressed and let go."""

    def deed(hall: Hall) -> None:
        if not hall.loops[rig].lost_now():
            hall.says(rig, "rack", PEDAL, UP)

    return Does(f"pedal {rig}", deed)


def nights() -> SearchStrategy[list[Does]]:
    """Rows of things that happen."""
    plain: list[Does] = [does(one) for one in (Back(), Again(), No(), Fire(), Drive(RIGS))]
    plain += [does(Drive((id,))) for id in RIGS] + [does(Home(), HomeYes()), Does("by hand", by_hand)]
    some = st.one_of(
        st.just(does(Next())),
        st.just(does(OutputsMuted())),
        st.just(does(Silence())),
        st.sampled_from(plain),
        st.builds(lambda key: does(Jump(key)), st.sampled_from(KEYS)),
        st.builds(lambda key: does(Reached(key)), st.sampled_from(KEYS)),
        st.builds(lambda ms: Does(f"go {ms}", lambda hall: hall.go(ms)), st.sampled_from((1, 3, 7, 20, 90))),
        st.just(Does("settle", Hall.settle)),
        st.just(Does("go 1200", lambda hall: hall.go(1_200))),
        st.builds(cut, st.sampled_from(RIGS), st.booleans(), st.booleans()),
        st.builds(stall, st.sampled_from(RIGS), st.sampled_from((2, 9, 30, 60))),
        st.just(Does("all there", lambda hall: hall.away.clear())),
        st.builds(elsewhere, st.sampled_from(PORTS), FROM_ELSEWHERE),
        st.builds(
            lambda rig, one: elsewhere((rig, one[0]), bytes.fromhex(one[1])),
            st.sampled_from(RIGS),
            st.sampled_from(MOVES),
        ),
        st.builds(pedal, st.sampled_from(RIGS)),
        st.builds(lambda at: does(TakeOut(*at)), st.sampled_from(DEVICES)),
        st.builds(lambda at: does(BringBack(*at)), st.sampled_from(DEVICES)),
    )
    return st.one_of(st.lists(some, max_size=30), st.lists(some, min_size=15, max_size=30))


@settings(max_examples=40)
@given(night=nights(), said=st.booleans())
def test_each_rig_stands_in_the_stop_that_it_is_in_and_the_log_says_what_it_heard(
    night: list[Does], said: bool
) -> None:
    play([*([does(OutputsMuted())] if said else []), *night], Start())


@settings(max_examples=20)
@given(night=nights())
def test_the_same_holds_where_a_person_has_spoken_in_advance_and_faults_do_not_ask(
    night: list[Does],
) -> None:
    play(night, Start(Options(said=True, asks_after_fault=False), driven=RIGS))


def play(night: list[Does], start: Start) -> None:
    """All of a night; in the end a person makes good whatever went wrong, and the last change completes."""
    with tempfile.TemporaryDirectory() as folder:
        hall = Hall(Path(folder), WITH_FEET, start)
        try:
            for one in night:
                one.deed(hall)
            hall.away.clear()
            hall.go(1_500)
            hall.it.do(OutputsMuted())
            hall.settle()
            hall.it.do(Next())
            hall.it.do(Back())
            hall.settle()
            check(hall)
        finally:
            hall.close()


def check(hall: Hall) -> None:
    """Where the rigs stand, when what they heard left, and what the log says of it."""
    for id in hall.it.state.driven:
        assert (id, hall.it.state.rig(id).gate, hall.astray(id)) == (id, Gate.OPEN, [])
    assert [one for one in hall.arrived if one.gate is not Gate.OPEN] == []
    assert disturbed(hall.arrived) == []
    for at in PORTS:
        assert (at, fits(hall.datas(*at), logged(hall, *at))) == (at, True)


def disturbed(arrived: Sequence[Arrived]) -> list[tuple[Arrived, Arrived]]:
    """Messages that reached a box before it had settled, each after the one that it had to settle from.

    What leaves up to a millisecond late pushes nothing back: waits on real ports are longer by that
    (`live/spacing.py`), and on these they are not.
    """
    found = []
    settling: dict[tuple[str, str, int], tuple[Arrived, int]] = {}
    for one in arrived:
        if one.data == b"\xf8":
            continue
        box = (one.rig, one.port, one.data[0] & 15)
        before = settling.get(box)
        if before is not None and one.at_ns < before[0].at_ns + before[1] - LATE_NS:
            found.append((before[0], one))
        settles = SETTLES.get((one.port, one.data[:-1]))
        if settles is not None:
            settling[box] = (one, settles + wire_time_us(len(one.data), DIN_BYTE_US) * 1000)
    return found


def logged(hall: Hall, rig: str, port: str) -> list[tuple[list[bytes], bool]]:
    """What the log says was sent to a port: each send's messages, and whether all of them went out."""
    entries = [one for one in hall.logged() if one.get("rig") == rig]
    through = {one["send"] for one in entries if one["event"] == "sent"}
    return [
        ([bytes.fromhex(data) for to, _, data in one["messages"] if to == port], one["send"] in through)  # type: ignore[attr-defined]
        for one in entries
        if one["event"] == "send"
    ]


def fits(heard: Sequence[bytes], sends: Sequence[tuple[list[bytes], bool]]) -> bool:
    """Whether what was heard is each send whole or, where it was broken off, its beginning."""
    places = {0}
    for messages, through in sends:
        after: set[int] = set()
        for place in places:
            same = 0
            while same < len(messages) and list(heard[place + same : place + same + 1]) == [messages[same]]:
                same += 1
            after |= {place + n for n in range(same + 1) if n == len(messages) or not through}
        places = after
    return len(heard) in places
