"""The line check itself: mute, ask every port, look at what cannot answer, put the rig back."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from switchmatrix.compile.known import Known, all_in_doubt, nothing_known
from switchmatrix.live.changes import SILENCE, Change, Planner
from switchmatrix.live.line_check.asking import ask
from switchmatrix.live.line_check.by_eye import Decode, look
from switchmatrix.live.line_check.found import BrokenOffError, Found, Wanted
from switchmatrix.live.line_check.judging import judge
from switchmatrix.live.line_check.records import Result, Round, Verdict
from switchmatrix.live.outcome import faults_said
from switchmatrix.live.records import Refused
from switchmatrix.live.sending import deliver
from switchmatrix.live.wires import Wires
from switchmatrix.model.rig import Device, Rig
from switchmatrix.states.state import DeviceState, State

Tell = Callable[[str], None]
Ask = Callable[[str, str], bool | None]
"""Puts a question about a device to a person; None for no answer."""


class LineCheck:
    """One line check of one rig on open wires; what it finds is in `found`, whatever ends it.

    After a fault `again` has it go on with what it has not yet checked.
    """

    def __init__(
        self, planner: Planner, wires: Wires, wanted: Wanted, decode: Decode, stop: Callable[[], bool]
    ) -> None:
        self.rig, self._planner, self._wires = planner.rig, planner, wires
        self._wanted, self._decode, self._stop = wanted, decode, stop
        self._known = nothing_known(planner.rig)
        self._by_hand: set[str] = set()
        self.found = Found()

    def run(self, tell: Tell, person: Ask | None) -> None:
        """Go through all of it; without a `person` nothing is looked at."""
        try:
            self._quiet(tell)
            self._identities(tell)
            self._by_eye(tell, person)
            self._put_back(tell)
        except BrokenOffError as broken:
            self.found.broken = broken

    def again(self, wires: Wires) -> None:
        """Have it run once more, on ports that were opened anew: nothing is taken for known of the rig."""
        self._wires, self._known = wires, all_in_doubt(self.rig)
        self.found.faults.append(str(self.found.broken))
        self.found.broken = None

    def by_hand(self, tell: Tell) -> None:
        """Say what must be set by hand before it goes on after a fault."""
        self._set(self._first(all_in_doubt(self.rig)), tell)

    def _set(self, change: Change, tell: Tell) -> None:
        for line in change.by_hand:
            if line not in self._by_hand:
                tell(line)
        self._by_hand |= set(change.by_hand)

    def _send(self, change: Change, tell: Tell) -> None:
        self._set(change, tell)
        delivery = deliver(self._wires, change, self._stop)
        self._known = change.after
        if delivery.faulty:
            raise BrokenOffError(delivery, "; ".join(faults_said(delivery)), faulty=True)
        if not delivery.whole or delivery.stopped:
            raise BrokenOffError(delivery, "stopped", faulty=False)
        self.found.stands += (change.title,)

    def _first(self, known: Known) -> Change:
        """`silence` where the rig has it, else home."""
        wanted = self._wanted
        if wanted.silence is not None:
            return self._planner.silence(known, wanted.silence, wanted.absent)
        return self._planner.change(known, "home", wanted.home, (), wanted.absent)

    def _quiet(self, tell: Tell) -> None:
        if self._wanted.silence is not None:
            tell(f"sending {SILENCE} first")
        else:
            tell(f"this rig has no {SILENCE}: sending home first, with nothing muted")
        self._send(self._first(self._known), tell)

    def _identities(self, tell: Tell) -> None:
        """Ask every port that has a return, once."""
        if self.found.asked:
            return
        returning = [wire.name for wire in self._wires.by_port.values() if wire.input is not None]
        able = {port: self._able(port) for port in returning}
        expected = {port: sum(device.gang for device in devices) for port, devices in able.items()}
        if not expected:
            return
        tell(f"asking who is there on {', '.join(expected)}")
        asked = ask(self._wires, expected, self._stop)
        if isinstance(asked, Refused):
            raise BrokenOffError(None, asked.text, faulty=True)
        if self._wires.lost:
            raise BrokenOffError(None, "; ".join(one.text for one in self._wires.lost), faulty=True)
        if self._stop():
            raise BrokenOffError(None, "stopped", faulty=False)
        self.found.asked = True
        for port, rounds in asked.items():
            self._judge(port, able[port], rounds, tell)

    def _judge(self, port: str, able: Sequence[Device], rounds: Sequence[Round], tell: Tell) -> None:
        results, strangers = judge(able, rounds)
        noise = _noise(rounds)
        for one in results:
            if one.verdict is Verdict.SILENT and noise:
                one = replace(one, said=f"{one.said}; {noise}")
            if one.device in self._wanted.devices:
                self.found.results[one.device] = one
                tell(f"{one.device}: {one.verdict.value}, {one.said}")
        self.found.strangers += [f"on {port} a box answers that is not in the map: {s}" for s in strangers]
        self.found.strangers += [f"on {port}: {noise}"] if noise else []

    def _able(self, port: str) -> list[Device]:
        """The devices of a port that can answer, but for those that are not there."""
        return [
            device
            for device in self.rig.devices
            if device.port == port
            and device.definition.identity is not None
            and device.name not in self._wanted.absent
        ]

    def _by_eye(self, tell: Tell, person: Ask | None) -> None:
        """Every device that cannot answer is made to show something else, and a person asked."""
        base = self._wanted.silence or self._wanted.home
        for n, state in enumerate(base.devices):
            device = state.device
            if device.name in self._wanted.devices and device.name not in self.found.results:
                self.found.results[device.name] = self._seen(base, n, state, tell, person)

    def _seen(self, base: State, n: int, state: DeviceState, tell: Tell, person: Ask | None) -> Result:
        device = state.device
        why = "it cannot answer" if device.definition.identity is None else "its port has no return"
        result = Result(device.name, device.port, Verdict.NOT_CHECKED, f"{why}, and nobody was asked")
        if person is None:
            return result
        seen = look(self.rig, state, self._decode)
        if seen is None:
            said = f"{why}, and nothing of it may be moved to be looked at"
            return replace(result, said=said)
        shown = State((*base.devices[:n], seen.state, *base.devices[n + 1 :]))
        title = f"{device.name} by eye"
        self._send(self._planner.change(self._known, title, shown, (), self._wanted.absent), tell)
        answer = person(device.name, f"{device.name} ({device.port}): {seen.shows}. Does it?")
        if self._stop():
            raise BrokenOffError(None, "stopped", faulty=False)
        verdict = {True: Verdict.EYE_YES, False: Verdict.EYE_NO, None: Verdict.NOT_CHECKED}[answer]
        result = replace(result, verdict=verdict, said=seen.shows)
        tell(f"{device.name}: {verdict.value}")
        return result

    def _put_back(self, tell: Tell) -> None:
        """The whole state, from unknown: what was silent may be there now."""
        title, state = self._wanted.then
        tell(f"sending {title}")
        known = only_toggles(self.rig, self._known)
        self._send(self._planner.change(known, title, state, (), self._wanted.absent), tell)


def only_toggles(rig: Rig, known: Known) -> Known:
    """Nothing known, but where the switches stand that can only be flipped."""
    doubt = all_in_doubt(rig)
    return Known(
        tuple(
            replace(
                unknown,
                controls=tuple(
                    stands if control.toggle is not None else nothing
                    for control, stands, nothing in zip(
                        device.definition.controls, was.controls, unknown.controls, strict=True
                    )
                ),
            )
            for device, was, unknown in zip(rig.devices, known.devices, doubt.devices, strict=True)
        )
    )


def _noise(rounds: Sequence[Round]) -> str:
    """What came that was no reply, in words."""
    cut = [data for one in rounds for data in one.cut]
    noise, flood = sum(one.noise for one in rounds), sum(one.flood for one in rounds)
    said = []
    if cut:
        said.append(f"{len(cut)} replies came cut short ({cut[0][:8].hex(' ').upper()} ...)")
    if noise:
        said.append(f"{noise} times bytes of no meaning came")
    if flood:
        said.append(f"a flood of replies came, {flood} more than can be anybody's")
    return "; ".join(said)
