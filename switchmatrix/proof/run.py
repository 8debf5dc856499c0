"""A leg on a rig, proved: every ordered pair of its states, and from unknown."""

from __future__ import annotations

from switchmatrix.compile.known import reach, settled
from switchmatrix.midi.numbers import WireBank
from switchmatrix.proof.bench import Bench, Wire, untouched
from switchmatrix.proof.device import prove_device
from switchmatrix.proof.goal import Labelled
from switchmatrix.proof.joint import hear_each_other, prove_joint
from switchmatrix.proof.muted import Muting
from switchmatrix.proof.reach import prove_reach
from switchmatrix.proof.report import DeviceProof, RunProof
from switchmatrix.proof.triggers import Fired, prove_triggers
from switchmatrix.states.show import Run
from switchmatrix.states.state import DeviceState, State


def prove(run: Run, wire: Wire = untouched, *, every_pair: bool = False) -> RunProof:
    """Each device by itself; those that hear each other together besides; then the triggers.

    `wire` is what becomes of a device's messages on their way. `every_pair` takes no short cuts.
    """
    scenes, rig = scenes_of(run), run.rig
    states = [state for _, state in scenes]
    benches = [Bench(device, wire) for device in rig.devices]
    proofs: list[DeviceProof] = []
    banks: dict[str, set[WireBank]] = {}
    for n, bench in enumerate(benches):
        here, reached = _distinct(scenes, n), reach(rig, bench.device)
        if here:
            proof = prove_device(bench, here, reached, Muting(rig, bench, states), every_pair=every_pair)
            beyond = prove_reach(rig, bench, here, reached)
            proofs.append(
                DeviceProof(proof.devices, False, proof.states, proof.pairs, (*proof.failed, *beyond))
            )
            after = {settled(state, reached).bank for _, state in here}
            banks[bench.device.name] = {bank for bank in after if isinstance(bank, int)}
    fired = prove_triggers(rig, benches, _triggers(run), banks)
    proofs += [prove_joint(rig, together, scenes) for together in hear_each_other(benches)]
    distinct = {state.key for state in states}
    return RunProof(run.leg.name, rig.id, len(distinct), tuple(proofs), tuple(fired))


def scenes_of(run: Run) -> list[tuple[str, State]]:
    """Every state of every scene of the leg, standing scenes too: `SONG SCENE` and the state."""
    return [
        (f"{song.song.song.id} {scene.label}", scene.state) for _, song in run.songs for scene in song.states
    ]


def _triggers(run: Run) -> list[Fired]:
    return [
        (f"{song.song.song.id} {visit.scene}", trigger)
        for _, song in run.songs
        for visit in song.visits
        for trigger in visit.triggers
    ]


def _distinct(scenes: list[tuple[str, State]], device: int) -> Labelled:
    """The distinct states of the device of that number, each with the first scene that has it."""
    seen: set[int] = set()
    found: dict[tuple[object, ...], tuple[str, DeviceState]] = {}
    for label, state in scenes:
        here = state.devices[device]
        if id(here) not in seen:
            seen.add(id(here))
            found.setdefault(here.key, (label, here))
    return tuple(found.values())
