"""A small show to rehearse, a rig made of software that hears what is sent, and what must hold of both."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from switchmatrix.compile.known import UNKNOWN as NOT_KNOWN
from switchmatrix.compile.known import Standing as Claimed
from switchmatrix.compile.known import reach
from switchmatrix.compile.schedule import Timed
from switchmatrix.compile.step import Role
from switchmatrix.live.stepping import core
from switchmatrix.live.stepping.actions import Action, DropQueue, Log, Say, Send
from switchmatrix.live.stepping.doubts import doubts
from switchmatrix.live.stepping.gate import Gate
from switchmatrix.live.stepping.inputs import (
    Count,
    Done,
    Fire,
    Input,
    Next,
    OutputsMuted,
    PortBack,
    PortLost,
    Reached,
    SendFailed,
    SetByHand,
)
from switchmatrix.live.stepping.prepared import SILENCE, Prepared, prepare
from switchmatrix.live.stepping.state import Options, RigNow, Stepping
from switchmatrix.live.stepping.stops import Key
from switchmatrix.model.rig import Device, Rig
from switchmatrix.pipeline import Judged
from switchmatrix.simulate.receiver import Receiver
from switchmatrix.simulate.rig import Stage, receivers
from switchmatrix.simulate.standing import UNKNOWN, AsStored, Standing
from switchmatrix.simulate.stream import heard
from switchmatrix.states.state import DeviceState, PatchIn, StoredIn
from tests.support import findings, judged

FILES = {
    "show.yaml": """
show: Tidewrack
rigs: [a-rig, b-rig]
legs:
  tour:
    rigs: [a-rig, b-rig]
    setlist: [lantern, {standing: changeover, remark: capo off}, bell]
""",
    "lantern.yaml": """
song: Nine Lanterns
tempo: 120
start: 1:00:00:00
rate: 25
instrument: baritone
scenes:
  verse: {at: [bar 1, bar 5], amp.lead: on}
  chorus:
    at: bar 3
    echo: {engage: on, patch: cliff, time: 700}
    sampler: {bell: now, surf: on}
    wah.sweep: 40
  bridge:
    at: bar 7
    land: on time
    multi: {mode: b, depth: 9}
    reverb: {patch: cave}
    remark: "hand over the mandola"
""",
    "bell.yaml": """
song: Harbour Bell
instrument: baritone
tuning: low B
order: [market, quay, market]
scenes:
  market: {amp: {channel: lead, boost: off}, echo: {mix: 99}, multi: two}
  quay: {echo: {patch: cliff, engage: on}, sampler: {bell: now}, gate-level: 30}
  spare: {like: quay, reverb: {patch: cave, size: 5}}
""",
    "rigs/a-rig.yaml": """
rig: A rig
ports:
  rack: {out: rack, in: rack return, speed: din}
  floor: {out: floor, in: floor return, speed: din}
controllers: {board: {port: floor, channel: 4, sends: {cc: [31]}}}
devices:
  echo:
    port: rack
    channel: 1
    definition: echo-box
    patches: {slap: 4, cliff: {at: 17, stores: {mix: 35, time: 480}}}
  amp: {port: floor, channel: 2, definition: amp-box}
  multi:
    port: rack
    channel: 3
    definition: multi-box
    patches: {one: {at: 1, stores: {mode: a, depth: 3}}, two: {at: 2, stores: {mode: b, depth: 4}}}
  sampler: {port: floor, channel: 4, definition: sampler-box}
  reverb:
    port: rack
    channel: 5
    definition: reverb-box
    patches: {room: 1, cave: 200}
  mixer: {port: floor, channel: 6, definition: mixer-box}
  wah: {port: rack, channel: 7, definition: wah-box}
instruments: {baritone: {tuning: B standard}}
vocabulary: {gate-level: mixer.in-1}
hands: [wah.sweep]
home:
  echo: {patch: slap, engage: off}
  amp: {lead: off, boost: on, channel: clean}
  multi: one
  sampler: {surf: off}
  reverb: room
  mixer: {mute-all: off, in-1: 64}
mutes: [{while: [amp.channel, echo.patch], hold: {mixer.mute-all: on}, before: 5 ms, after: 10 ms}]
standing:
  silence: {mixer.mute-all: on}
  changeover: {like: silence, gate-level: 0}
""",
    "rigs/b-rig.yaml": """
rig: B rig
like: a-rig
devices: {echo: {patches: {slap: 5}}}
changes: {lantern: {scenes: {bridge: {drop: yes}}}}
""",
    "definitions/echo-box.yaml": """
definition: echo box
programs: {count: 128, first: 1, settle: 35 ms, repeat: recalls}
controls:
  engage: {kind: switch, cc: 80, main: yes}
  mix: {kind: level, cc: 21, range: [0, 127], stored: yes}
  time: {kind: level, cc14: [12, 44], range: [0, 16383], stored: yes}
""",
    "definitions/amp-box.yaml": """
definition: amp box
controls:
  lead: {kind: switch, cc: 90, toggle: {press: 127, release: 0}, powers-up: off}
  boost: {kind: switch, cc: 91, toggle: {press: 100, release: none}, powers-up: on}
  channel: {kind: choice, cc: 92, values: {clean: 0, lead: 1}, settle: 10 ms}
""",
    "definitions/multi-box.yaml": """
definition: multi box
programs: {count: 8, first: 1, repeat: nothing}
controls:
  engage: {kind: switch, cc: 80, main: yes}
  mode: {kind: choice, cc: 20, values: {a: 0, b: 1}, resets: [depth], stored: yes}
  depth: {kind: level, nrpn: [1, 8], data: 7, range: [0, 127], stored: yes}
""",
    "definitions/sampler-box.yaml": """
definition: sampler box
controls:
  surf: {kind: switch, cc: 31}
  bell: {kind: trigger, cc: 33}
""",
    "definitions/reverb-box.yaml": """
definition: reverb box
programs: {count: 300, first: 1, bank: both, bank-when: change, repeat: recalls}
controls:
  size: {kind: level, cc: 50, range: [0, 127], stored: yes}
""",
    "definitions/mixer-box.yaml": """
definition: mixer box
controls:
  mute-all: {kind: switch, cc: 90}
  in-1: {kind: level, cc: 7, range: [0, 127]}
""",
    "definitions/wah-box.yaml": """
definition: wah box
controls:
  sweep: {kind: level, cc: 11, range: [0, 127], moved-by: player}
""",
}
"""Two rigs on two ports: banks, toggles, resets, a mute, a trigger, a controller, a player's pedal."""


def show_of(changes: dict[str, tuple[str, str]] | None = None) -> Judged:
    """The show with pieces of its files replaced, each (path: what stands there, what comes instead)."""
    files = dict(FILES)
    for path, (old, new) in (changes or {}).items():
        assert old in files[path]
        files[path] = files[path].replace(old, new)
    return judged({path: text.lstrip("\n") for path, text in files.items()}, base=None)


def ready(show: Judged, leg: str = "tour", rigs: Sequence[str] = ("a-rig", "b-rig")) -> Prepared:
    """A sound show made ready."""
    assert show.sound, "\n".join(findings(show))
    return prepare(show.worked_out, leg, rigs)


SHOW = ready(show_of())
VERSE, CHORUS = Key(1, "lantern", "verse", 1), Key(1, "lantern", "chorus", 1)
VERSE_2, BRIDGE = Key(1, "lantern", "verse", 2), Key(1, "lantern", "bridge", 1)
CHANGEOVER = Key(2, "standing", "changeover", 1)
MARKET, QUAY, MARKET_2 = (
    Key(3, "bell", "market", 1),
    Key(3, "bell", "quay", 1),
    Key(3, "bell", "market", 2),
)
SPARE = Key(3, "bell", "spare", 1)

FIRES = (Next, Reached, Fire)
"""The only inputs that may fire a trigger."""


@dataclass(frozen=True, slots=True)
class OnWire:
    """A message that waits on a port, with its send."""

    send: Send
    message: Timed


@dataclass(slots=True)
class Wires:
    """A rig made of software, with what its ports still have to send."""

    rig: Rig
    stage: Stage
    queues: dict[str, list[OnWire]]
    by_name: dict[str, Receiver]
    fires: dict[int, bool] = field(default_factory=dict)
    """By send, whether it may fire."""


def wires(rig: Rig) -> Wires:
    """The rig as it powers up."""
    heard_by = receivers(rig)
    start = {
        device.name: one.unit.start(controls=_powered_up(device))
        for device, one in zip(rig.devices, heard_by.devices, strict=True)
    }
    stage = Stage(heard_by, start)
    return Wires(
        rig, stage, {port.name: [] for port in rig.ports}, {one.name: one for one in heard_by.devices}
    )


def _powered_up(device: Device) -> list[Standing]:
    up = dict(device.powers_up)
    return [int(up[n]) if n in up else UNKNOWN for n in range(len(device.definition.controls))]


class Rehearsal:
    """The core and its rigs together: actions go onto wires, and what arrives is looked at."""

    def __init__(self, show: Prepared, options: Options | None = None, **begin: object) -> None:
        self.at_us = 0
        self.wires = {id: wires(one.rig) for id, one in show.rigs.items()}
        self.actions: list[Action] = []
        self.shut = set(show.rigs)
        """The rigs that nobody has spoken for since they were found, or since a fault."""
        self.cut: list[int] = []
        """How many messages still go out when a queue is dropped, for each port that is."""
        self.state, actions = core.start(show, options, **begin)  # type: ignore[arg-type]
        self._do(actions, None)

    def take(self, input: Input) -> tuple[Action, ...]:
        """Something happens."""
        self.at_us += 1_000
        before = self.state
        if isinstance(input, OutputsMuted):
            self._set_first()
            self.shut -= set(before.driven)
        elif isinstance(input, PortLost | SendFailed | PortBack) and self._shuts(input, before):
            self.shut.add(input.rig)
        self.state, actions = core.step(before, input, self.at_us)
        if self.state.show is not before.show:
            self._rewire()
        self._do(actions, input, before)
        return actions

    def _shuts(self, input: PortLost | SendFailed | PortBack, before: Stepping) -> bool:
        """Whether a fault has come, or what it was about has come back."""
        return not isinstance(input, PortBack) or input.port in before.rig(input.rig).lost

    def _set_first(self) -> None:
        """Before he says that outputs are muted, a person sets by hand what the first question names."""
        for id in self.state.driven:
            on = self.wires[id]
            for device in on.rig.devices if self.state.rig(id).gate is Gate.FIRST else ():
                now = on.stage.now[device.name]
                up = dict(device.powers_up)
                controls = tuple(int(up[n]) if n in up else s for n, s in enumerate(now.controls))
                on.stage.now[device.name] = replace(now, controls=controls)

    def _rewire(self) -> None:
        """Another show: boxes that it has unchanged stand as they stood."""
        for id, ready_rig in self.state.show.rigs.items():
            old, new = self.wires[id], wires(ready_rig.rig)
            for device in new.rig.devices:
                if old.rig.device(device.name) == device:
                    new.stage.now[device.name] = old.stage.now[device.name]
                else:
                    new.stage.now[device.name] = new.by_name[device.name].unit.start()
            self.wires[id] = new

    def _do(self, actions: Sequence[Action], input: Input | None, before: Stepping | None = None) -> None:
        self.actions += actions
        passed: set[str] = set()
        for action in actions:
            if isinstance(action, DropQueue):
                self._drop(action.rig)
            elif isinstance(action, Send):
                if input is not None and before is not None:
                    self._judge(action, input, before, first=action.rig not in passed)
                passed.add(action.rig)
                on = self.wires[action.rig]
                on.fires[action.send] = isinstance(input, FIRES)
                for message in action.messages:
                    on.queues[message.step.port].append(OnWire(action, message))

    def _judge(self, send: Send, input: Input, before: Stepping, first: bool) -> None:
        """A send keeps to the rules of the gate, of devices that are out, of ports and of switches."""
        was, now = before.rig(send.rig), self.state.rig(send.rig)
        options, rig = self.state.options, self.wires[send.rig].rig
        assert send.rig not in self.shut or options.said or not options.asks_after_fault
        if was.gate in (Gate.FAULT, Gate.RESUMED) and first and self.state.show.rigs[send.rig].has_silence:
            assert (send.key, send.whole) == (SILENCE, True)
        assert not send.fires or isinstance(input, FIRES)
        assert [m for m in send.messages if m.step.device in now.out] == []
        assert [m for m in send.messages if m.step.port in now.lost] == []
        assert min(m.starts_us for m in send.messages) >= self.at_us
        if was.gate is not Gate.FIRST:
            self._judge_flips(send, was, rig)

    def _judge_flips(self, send: Send, was: RigNow, rig: Rig) -> None:
        """A switch is flipped only where it is known to stand."""
        for n, device in enumerate(rig.devices):
            for index, control in enumerate(device.definition.controls):
                flips = [
                    m for m in send.messages if m.step.device == device.name and control.name in m.step.moves
                ]
                if control.toggle is not None and flips:
                    assert not send.whole
                    assert isinstance(was.known.devices[n].controls[index], int)

    def _drop(self, rig: str) -> None:
        queues = self.wires[rig].queues
        for port in queues:
            self.deliver(rig, port, self.cut.pop() if self.cut else 0)
            queues[port] = []

    def deliver(self, rig: str, port: str, most: int) -> int:
        """The next messages of a port arrive; how many."""
        on = self.wires[rig]
        arriving, on.queues[port] = on.queues[port][:most], on.queues[port][most:]
        for one in arriving:
            fired = self._fired(on)
            on.stage.feed(port, one.message.step.data)
            assert self._fired(on) == fired or on.fires[one.send.send]
            assert self._fired(on) == fired or one.message.step.role is Role.TRIGGER
        return len(arriving)

    def _fired(self, on: Wires) -> int:
        return sum(len(now.fired) for now in on.stage.now.values())

    def fired(self, rig: str = "a-rig") -> int:
        """How many triggers have gone off on a rig."""
        return self._fired(self.wires[rig])

    def finish(self) -> None:
        """All that waits arrives, is reported, and stands as it should."""
        for id, on in self.wires.items():
            busy = self.state.rig(id).busy
            self.at_us = max(
                [self.at_us, *busy.ports.values(), *busy.devices.values(), *busy.lets_go.values()]
            )
            for port in on.queues:
                self.deliver(id, port, len(on.queues[port]))
            for pending in self.state.rig(id).pending:
                self.take(Done(id, pending.send))
        for id in self.wires:
            self.check(id)

    def lose(self, rig: str, port: str, more: int = 0, counted: tuple[int, int] = (0, 99)) -> None:
        """A port is lost when `more` of its messages have arrived; `counted` is what is told of each send.

        That is cut to the truth: no more are certain than have arrived, no fewer may have.
        """
        on = self.wires[rig]
        waiting = [one.send.send for one in on.queues[port]]
        self.deliver(rig, port, more)
        left = [one.send.send for one in on.queues[port]]
        on.queues[port].clear()
        counts = []
        for pending in self.state.rig(rig).pending:
            total = sum(m.step.port == port for m in pending.messages)
            arrived = total - left.count(pending.send)
            certain = min(counted[0], arrived) if pending.send in waiting else arrived
            counts.append(Count(pending.send, port, certain, min(max(counted[1], arrived), total)))
        self.take(PortLost(rig, port, "the cable is out", tuple(counts)))

    def power_cycle(self, rig: str, port: str) -> None:
        """What hangs on a port was off, and stands anywhere."""
        on = self.wires[rig]
        for device in on.rig.devices:
            if device.port == port:
                on.stage.now[device.name] = on.by_name[device.name].unit.start()

    def elsewhere(self, rig: str, port: str, data: bytes) -> None:
        """Someone else sends something, which the tool hears too."""
        on = self.wires[rig]
        on.stage.feed(port, data)
        for now in on.stage.now:
            on.stage.now[now] = replace(on.stage.now[now], fired=())
        for doubt in doubts(rig, receivers(on.rig), port, heard(data)):
            self.take(doubt)

    def hands(self, rig: str) -> None:
        """The player moves all that he holds, and a controller what it reaches."""
        on = self.wires[rig]
        for device in on.rig.devices:
            now = on.stage.now[device.name]
            names = [control.name for control in device.definition.controls]
            held = {
                names.index(t.control) for t in on.rig.hands if t.device == device.name and t.control in names
            }
            held |= reach(on.rig, device).controls
            controls = tuple(UNKNOWN if n in held else s for n, s in enumerate(now.controls))
            on.stage.now[device.name] = replace(now, controls=controls)

    def by_hand(self) -> None:
        """A person puts the switches where he was told, once nothing is under way, and says so."""
        self.finish()
        for id in self.state.driven:
            for hand in self.state.rig(id).by_hand:
                on = self.wires[id]
                name = on.rig.devices[hand.device].name
                now = on.stage.now[name]
                controls = (*now.controls[: hand.index], int(hand.on), *now.controls[hand.index + 1 :])
                on.stage.now[name] = replace(now, controls=controls)
        self.take(SetByHand())

    def check(self, id: str) -> None:
        """All that is claimed to be known is so."""
        on, now = self.wires[id], self.state.rig(id)
        if now.gate is Gate.FIRST:
            return
        for device, known in zip(on.rig.devices, now.known.devices, strict=True):
            stands, one = on.stage.now[device.name], on.by_name[device.name]
            for index, claimed in enumerate(known.controls):
                if claimed is not NOT_KNOWN:
                    name = device.definition.controls[index].name
                    assert (device.name, name, stands.controls[index]) == (
                        device.name,
                        name,
                        _claim(one, claimed),
                    )
            if known.patch is not NOT_KNOWN:
                assert (device.name, stands.patch) == (device.name, one.unit.place(known.patch))
            if isinstance(known.bank, int):
                assert (device.name, one.unit.bank(stands)) == (device.name, known.bank)

    def wrong(self, id: str = "a-rig") -> list[str]:
        """What of the stop that a rig is in it does not have, but for what it is sent nothing of.

        The player's controls count too: they are where the scene wants them until he moves them.
        """
        on, now = self.wires[id], self.state.rig(id)
        assert now.inside is not None
        absent = now.absent(on.rig)
        by_hand = {(on.rig.devices[h.device].name, h.index) for h in now.by_hand}
        state = self.state.prepared(id).states[now.inside]
        return [
            fault
            for device in state.devices
            if device.device.name not in absent
            for fault in _wrong(on, device, by_hand)
        ]

    def said(self) -> list[str]:
        """All that a person was told since this was last asked."""
        told = [action.text for action in self.actions if isinstance(action, Say)]
        self.actions.clear()
        return told

    def logged(self) -> list[dict[str, object]]:
        """Every line logged so far."""
        return [dict(action.entry) for action in self.actions if isinstance(action, Log)]


def _claim(one: Receiver, claimed: Claimed) -> object:
    if isinstance(claimed, StoredIn):
        place = one.unit.place(claimed.address)
        return AsStored(claimed.address if place is None else place)
    return claimed


def _wrong(on: Wires, state: DeviceState, by_hand: set[tuple[str, int]]) -> list[str]:
    name = state.device.name
    stands, one = on.stage.now[name], on.by_name[name]
    found = [
        f"{name}.{control.name}"
        for n, control in enumerate(state.device.definition.controls)
        if state.wants[n] is not None
        and (name, n) not in by_hand
        and stands.controls[n] != _claim(one, state.wants[n])  # type: ignore[arg-type]
    ]
    if isinstance(state.patch, PatchIn) and stands.patch != one.unit.place(state.patch.patch.address):
        found.append(f"{name}.patch")
    return found


def hexed(actions: Sequence[Action]) -> list[str]:
    """What is sent, as `rig device HEX`."""
    return [
        f"{action.rig} {m.step.device} {m.step.data.hex(' ').upper()}"
        for action in actions
        if isinstance(action, Send)
        for m in action.messages
    ]


def running(options: Options | None = None, **begin: object) -> Rehearsal:
    """A rehearsal whose gate a person has opened, and whose first send is out."""
    rehearsal = Rehearsal(SHOW, options, **begin)
    rehearsal.take(OutputsMuted())
    rehearsal.finish()
    rehearsal.actions.clear()
    return rehearsal
