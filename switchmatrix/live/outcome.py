"""What became of a change, in words: what was sent, and what the rig is now known to be."""

from __future__ import annotations

from switchmatrix.compile.broken import BrokenOff
from switchmatrix.compile.jobs import covers
from switchmatrix.compile.known import DeviceKnown, Known, Unknown
from switchmatrix.compile.sentence import sentences
from switchmatrix.compile.step import Role
from switchmatrix.live.records import LATE_NS
from switchmatrix.live.sending import Delivery, known_after
from switchmatrix.model.rig import Device, Rig
from switchmatrix.model.settings import PATCH


def delivery_said(rig: Rig, delivery: Delivery) -> list[str]:
    """What was sent, a line a message, and below it how it ended."""
    lines = sentences(delivery.sent())
    if not delivery.change.messages:
        lines.append("nothing to send: the rig is there already")
    doubtful = sentences(delivery.doubtful())
    if doubtful:
        lines += ["", "may have been sent, nobody knows:", *doubtful]
    lines += ["", *_ending(delivery), *_late_mutes(rig, delivery)]
    if not delivery.whole:
        lines += known_said(rig, delivery.change.before, known_after(rig, delivery))
    return lines


def faults_said(delivery: Delivery) -> list[str]:
    """What went wrong on the wire, a line each."""
    lines = [one.text for one in delivery.lost]
    if delivery.refused is not None:
        lines.append(delivery.refused.text)
    if delivery.missed:
        lines.append(f"the MIDI server dropped {delivery.missed} of its own beats, so maybe messages too")
    return lines


def _ending(delivery: Delivery) -> list[str]:
    title, total = delivery.change.title, len(delivery.change.messages)
    lines = faults_said(delivery)
    sent = f"{len(delivery.surely)} of {total} messages were sent"
    if delivery.whole and total:
        latest = max(delivery.late_ns.values(), default=0)
        late = f", the latest {latest / 1e6:.1f} ms late" if latest > LATE_NS else ""
        lines.append(f"{title}: {total} messages sent{late}")
    elif not delivery.whole and delivery.stopped and not delivery.faulty:
        lines.append(f"{title}: stopped between two messages, {sent}")
    elif not delivery.whole:
        lines.append(f"{title}: broken off, {sent}")
    return lines


def _late_mutes(rig: Rig, delivery: Delivery) -> list[str]:
    """Mutes on one port that left so late that what they cover on another may have been heard.

    On one port a late message pushes back what follows it; the other ports do not know of it.
    """
    late = [
        m.step
        for n, m in enumerate(delivery.change.messages)
        if m.step.role is Role.MUTE_ON and delivery.late_ns.get(n, 0) > LATE_NS
    ]
    elsewhere = {
        step.device: other.step.device
        for step in late
        for other in delivery.change.messages
        if other.step.port != step.port
        and any(covers(rig.mutes[number], other.step) for number in step.mutes)
    }
    return [f"the mute of {mute} left late: {other} may have been heard" for mute, other in elsewhere.items()]


def known_said(rig: Rig, before: Known, broken: BrokenOff) -> list[str]:
    """Which devices are no longer known, and what may be left muted."""
    lost: list[str] = []
    for device, was, now in zip(rig.devices, before.devices, broken.known.devices, strict=True):
        names = _unknown(device, now)
        if names and now != was:
            lost.append(f"  {device.name}: nobody knows {_listed(names, device)}")
        elif names == _all(device):
            lost.append(f"  {device.name}: unknown, as before")
    sure = [
        device.name
        for device, now in zip(rig.devices, broken.known.devices, strict=True)
        if not _unknown(device, now)
    ]
    lines = ["what the rig is now known to be:", *lost]
    if sure:
        lines.append(f"  as before: {', '.join(sure)}")
    for target in broken.muted:
        lines.append(f"left muted: {target} may still be held by a mute")
    return lines


def _all(device: Device) -> list[str]:
    programs = [] if device.definition.programs is None else [PATCH]
    return programs + [control.name for control in device.definition.controls]


def _unknown(device: Device, known: DeviceKnown) -> list[str]:
    patch = isinstance(known.patch, Unknown) and device.definition.programs is not None
    return ([PATCH] if patch else []) + [
        control.name
        for control, stands in zip(device.definition.controls, known.controls, strict=True)
        if isinstance(stands, Unknown)
    ]


def _listed(names: list[str], device: Device) -> str:
    return "where it stands" if names == _all(device) else ", ".join(names)
