"""What a proof has shown, in words: for `prove`, and for `compile`, which proves first."""

from __future__ import annotations

from collections.abc import Iterable

from switchmatrix.compile.sentence import hex_text
from switchmatrix.controls import decode
from switchmatrix.definition.controls import TRIGGER, Control
from switchmatrix.midi.numbers import Address, bank_number, position, program_number
from switchmatrix.model.rig import Device, Rig
from switchmatrix.model.settings import PATCH
from switchmatrix.proof.report import Counterexample, DeviceProof, RunProof
from switchmatrix.simulate.standing import AsStored, Half, Moved, Reloaded, Unknown

MOST_SHOWN = 20
"""How many counterexamples are printed of one leg on one rig."""

MANY_STATES = 64
"""Up to so many states of each device a proof takes no longer than `check`."""

GROWS = "past 64, the time may grow with the sum of the squares of the devices' states"


def report(proof: RunProof, rig: Rig) -> list[str]:
    """What was gone through, and each counterexample."""
    what = f"{proof.states} states, {proof.pairs:,} transitions"
    if not proof.failed:
        lines = [f"{proof.leg} on {proof.rig}: proved: {what}, and each device comes to each state"]
    else:
        lines = [f"{proof.leg} on {proof.rig}: not proved: {what}, and this is wrong:"]
    lines += [_joint(device) for device in proof.devices if device.joint]
    most = max((device.states for device in proof.devices), default=0)
    if most > MANY_STATES:
        lines.append(f"  one device has {most} states: {GROWS}")
    for counter in proof.failed[:MOST_SHOWN]:
        lines += ["", *counterexample(counter, rig)]
    if len(proof.failed) > MOST_SHOWN:
        lines += ["", f"and {len(proof.failed) - MOST_SHOWN} more"]
    return lines


def _joint(proof: DeviceProof) -> str:
    names = " and ".join((", ".join(proof.devices[:-1]), proof.devices[-1]))
    return f"  {names} hear each other's messages: proved together, {proof.pairs:,} transitions"


def counterexample(counter: Counterexample, rig: Rig) -> list[str]:
    """From where, to where, which device and control, what is wanted, what comes, and the bytes."""
    device = rig.device(counter.device)
    control = device.definition.control(counter.control) if device is not None and counter.control else None
    name = f"{counter.device}.{counter.control or PATCH}"
    fires = control is not None and control.kind == TRIGGER
    if counter.before == counter.after and (fires or not counter.data):
        lines = [f"after {counter.after}: {name}"]
    elif counter.before == counter.after:
        lines = [f"from {counter.after} to any scene with {counter.device} alike: {name}"]
    else:
        more = f" (and from {counter.more} more)" if counter.more else ""
        lines = [f"from {counter.before or 'unknown'}{more} to {counter.after}: {name}"]
    if counter.because:
        lines.append(f"  {counter.because}")
    else:
        lines.append(f"  wanted {_said(device, control, counter.wanted)}")
        lines.append(f"  got    {_said(device, control, counter.got)}")
    return lines + _bytes(counter.data)


def _bytes(data: Iterable[bytes]) -> list[str]:
    shown = [hex_text(message) for message in data]
    return [f"  bytes  {', '.join(shown)}"] if shown else []


def _said(device: Device | None, control: Control | None, standing: object) -> str:
    """Where something stands, as people say it."""
    match standing:
        case Unknown():
            return "nobody knows what"
        case AsStored(place):
            return f"as {_patch(device, place)} stores it"
        case Reloaded(by):
            return f"as {by} reloads it"
        case Moved(cc):
            return f"wherever CC {cc} moved it"
        case Half(upper, None):
            return f"upper half {upper}, and nobody knows what lower half"
        case Half(_, lower):
            return f"lower half {lower}, and nobody knows what upper half"
        case Address():
            return _patch(device, standing)
        case int():
            value = decode(control, standing) if control is not None else None
            return f"{value} (code {standing})" if value is not None else f"code {standing}"
        case _:
            return str(standing)


def _patch(device: Device | None, place: Address) -> str:
    """The patch that lies at a place: its name, or its numbers as the standard counts them."""
    programs = device.definition.programs if device is not None else None
    if device is not None and programs is not None:
        at = position(place, None if programs.bank is None else programs.bank_size)
        named = next((patch for patch in device.patches if programs.called(patch.address) == at), None)
        if named is not None:
            return f"{named.name} (panel {named.panel})"
    program = f"the patch at program {program_number(place.program)}"
    return program if place.bank is None else f"{program} of bank {bank_number(place.bank)}"
