"""Nights drawn at random: what a person, the ports and the files do, one thing after another."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from hypothesis import strategies as st
from hypothesis.strategies import SearchStrategy

from switchmatrix.live.stepping.gate import Gate, Question
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
    JumpToScene,
    LeavePeek,
    Located,
    Next,
    No,
    OutputsMuted,
    Peek,
    Pin,
    PortBack,
    Reached,
    Reloaded,
    ReloadRefused,
    Silence,
    TakeOut,
)
from switchmatrix.live.stepping.prepared import Prepared
from tests.live.stepping.kit import Rehearsal

Deed = Callable[[Rehearsal], None]


@dataclass(frozen=True, slots=True)
class Does:
    """Something that happens, by name: a failing night is printed as a list of these."""

    name: str
    deed: Deed

    def __repr__(self) -> str:
        return self.name


def takes(input: Input) -> Does:
    """The core is told."""
    return Does(repr(input), lambda rehearsal: _take(rehearsal, input))


def _take(rehearsal: Rehearsal, input: Input) -> None:
    rehearsal.take(input)


def _home(rehearsal: Rehearsal) -> None:
    rehearsal.take(Home())
    assert rehearsal.state.asking is Question.HOME
    rehearsal.take(HomeYes())


def returns(at: tuple[str, str], off: bool) -> Deed:
    rig, port = at

    def deed(rehearsal: Rehearsal) -> None:
        if off and port in rehearsal.state.rig(rig).lost:
            rehearsal.power_cycle(rig, port)
        rehearsal.take(PortBack(rig, port))

    return deed


def loses(at: tuple[str, str], more: int, counted: tuple[int, int], off: bool) -> Deed:
    rig, port = at

    def deed(rehearsal: Rehearsal) -> None:
        if port not in rehearsal.state.rig(rig).lost:
            rehearsal.lose(rig, port, more, counted)
            if off:
                rehearsal.power_cycle(rig, port)

    return deed


def elsewhere(at: tuple[str, str], data: bytes) -> Deed:
    rig, port = at

    def deed(rehearsal: Rehearsal) -> None:
        # What nobody hears on a port that is lost shows when it is back: then all is in doubt.
        if port not in rehearsal.state.rig(rig).lost:
            rehearsal.elsewhere(rig, port, data)

    return deed


def cuts(counts: list[int], input: Input) -> Deed:
    def deed(rehearsal: Rehearsal) -> None:
        rehearsal.cut = list(counts)
        rehearsal.take(input)

    return deed


FROM_ELSEWHERE = st.one_of(
    st.builds(
        lambda channel, cc, value: bytes([0xB0 | channel, cc, value]),
        st.integers(0, 11),
        st.sampled_from((0, 6, 7, 11, 20, 21, 31, 32, 44, 50, 80, 90, 91, 92, 99, 121)),
        st.sampled_from((0, 1, 100, 127)),
    ),
    st.builds(
        lambda channel, program: bytes([0xC0 | channel, program]), st.integers(0, 11), st.integers(0, 9)
    ),
)
"""Messages of somebody else, many of them to a box and a control that there are."""


def nights(show: Prepared, others: tuple[Prepared, ...] = (), most: int = 30) -> SearchStrategy[list[Does]]:
    """Rows of things that happen; `others` are what the files may be changed to."""
    keys = [stop.key for stop in (*show.stops, *show.others)]
    rigs = list(show.rigs)
    ports = [(id, port.name) for id, one in show.rigs.items() for port in one.rig.ports]
    devices = [(id, device.name) for id, one in show.rigs.items() for device in one.rig.devices]
    plain: list[Input] = [Next(), Back(), Again(), Silence(), OutputsMuted(), No(), Fire(), LeavePeek()]
    plain += [ReloadRefused(()), Peek(1), Peek(-1), Pin("louder"), Home()]
    plain += [Reloaded(other) for other in (show, *others)]
    plain += [Drive(tuple(rigs)), *(Drive((id,)) for id in rigs), *(JumpToScene(n) for n in (1, 2, 9))]
    more, small = st.integers(0, 12), st.integers(0, 6)
    finish = Does("finish", Rehearsal.finish)
    deeds = st.one_of(
        st.just(takes(Next())),
        st.sampled_from([takes(input) for input in plain]),
        st.just(finish),
        st.just(takes(OutputsMuted())),
        st.builds(
            lambda kind, key: takes(kind(key)),
            st.sampled_from([Jump, Reached, Located]),
            st.sampled_from(keys),
        ),
        st.just(Does("home", _home)),
        st.just(Does("by hand", Rehearsal.by_hand)),
        st.builds(
            lambda at, n: Does(f"arrive {at} {n}", lambda r: _arrive(r, at, n)),
            st.sampled_from(ports),
            more,
        ),
        st.builds(
            lambda at, n, told, off: Does(f"lose {at} {n} {told} {off}", loses(at, n, told, off)),
            st.sampled_from(ports),
            more,
            st.tuples(small, more),
            st.booleans(),
        ),
        st.builds(
            lambda at, off: Does(f"back {at} {off}", returns(at, off)),
            st.sampled_from(ports),
            st.booleans(),
        ),
        st.builds(
            lambda at, data: Does(f"elsewhere {at} {data.hex()}", elsewhere(at, data)),
            st.sampled_from(ports),
            FROM_ELSEWHERE,
        ),
        st.builds(lambda id: Does(f"hands {id}", lambda r: r.hands(id)), st.sampled_from(rigs)),
        st.builds(lambda at: takes(TakeOut(*at)), st.sampled_from(devices)),
        st.builds(lambda at: takes(BringBack(*at)), st.sampled_from(devices)),
        st.builds(
            lambda counts: Does(f"silence, cut {counts}", cuts(counts, Silence())),
            st.lists(more, min_size=4, max_size=4),
        ),
    )
    # Hypothesis draws few long rows unless told to; short ones make failures readable.
    return st.one_of(st.lists(deeds, max_size=most), st.lists(deeds, min_size=most // 2, max_size=most))


def _arrive(rehearsal: Rehearsal, at: tuple[str, str], most: int) -> None:
    rehearsal.deliver(*at, most)


def play(rehearsal: Rehearsal, night: list[Does]) -> None:
    """All of a night; in the end a person makes good whatever went wrong, and the last change completes."""
    for does in night:
        does.deed(rehearsal)
        if all(not queue for on in rehearsal.wires.values() for queue in on.queues.values()):
            for id in rehearsal.wires:
                rehearsal.check(id)
    for id, on in rehearsal.wires.items():
        for port in on.queues:
            rehearsal.take(PortBack(id, port))
    rehearsal.finish()
    rehearsal.take(OutputsMuted())
    rehearsal.take(Next())
    rehearsal.take(Back())
    rehearsal.finish()
    for id in rehearsal.state.driven:
        assert rehearsal.state.rig(id).gate is Gate.OPEN
        assert (id, rehearsal.wrong(id)) == (id, [])
