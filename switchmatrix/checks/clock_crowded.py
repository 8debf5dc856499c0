"""MIDI clock and a message that do not fit on one port."""

from __future__ import annotations

from fractions import Fraction

from switchmatrix.compile.known import all_in_doubt
from switchmatrix.compile.mutable import mutable
from switchmatrix.compile.transition import Steps, transition
from switchmatrix.diagnostics import names
from switchmatrix.diagnostics.diagnostic import Diagnostic, Related
from switchmatrix.midi.wire import DIN_BYTE_US, wire_time_us
from switchmatrix.model.rig import Device, Rig
from switchmatrix.states.show import Run, ShowStates
from switchmatrix.states.visits import SongStates

CLOCKS_PER_QUARTER = 24
"""MIDI clocks in a quarter note (MIDI 1.0 Detailed Specification 4.2.1, p. 30)."""


def clock_crowded(show: ShowStates) -> list[Diagnostic]:
    """Each device that wants MIDI clock on a port where one message takes longer than half a clock."""
    found = []
    for run in show.runs:
        for device in run.rig.devices:
            if device.definition.clock and not run.rig.port(device.port).usb:
                worst = _worst(run, device)
                if worst is not None:
                    found.append(_finding(run.rig, device, *worst))
    return found


def _worst(run: Run, device: Device) -> tuple[int, Fraction, str, str] | None:
    """Its longest message in half clocks: its time, half a clock, who it is for, and the song."""
    worst: tuple[Fraction, int, Fraction, str, str] | None = None
    steps = Steps()
    for _, song in run.songs:
        if not song.timeline.tempos:
            continue
        half = min(t.quarter_ms for t in song.timeline.tempos) * 1000 / CLOCKS_PER_QUARTER / 2
        for us, other in _messages(run, song, device, steps):
            if us > half and (worst is None or us / half > worst[0]):
                worst = (us / half, us, half, other, song.song.song.id)
    return None if worst is None else worst[1:]


def _messages(run: Run, song: SongStates, device: Device, steps: Steps) -> list[tuple[int, str]]:
    """How long each message of the song takes on the device's port, and which device it is for."""
    doubt = all_in_doubt(run.rig)
    return [
        (wire_time_us(len(step.data), DIN_BYTE_US), step.device)
        for scene in song.states
        for step in transition(mutable(run.rig, (scene.state,)), doubt, scene.state, (), steps)
        if step.port == device.port
    ]


def _finding(rig: Rig, device: Device, us: int, half: Fraction, other: str, song: str) -> Diagnostic:
    message = (
        f"`{device.name}` wants MIDI clock on `{device.port}`, where one message to `{other}` takes "
        f"{us / 1000:.1f} ms: half a clock of `{song}` is {float(half) / 1000:.1f} ms"
    )
    help = f"put `{other}` or `{device.name}` on a port of its own"
    owner = rig.device(other)
    related = (Related(owner.span, f"`{other}` is here"),) if owner is not None else ()
    return names.CLOCK_CROWDED.at(device.span, message, help, related)
