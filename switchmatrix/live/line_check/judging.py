"""Replies to verdicts: which device each reply is from, and what that says of the device."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from switchmatrix.definition.definition import Identity
from switchmatrix.live.identity import Reply, identity_said, version_said
from switchmatrix.live.line_check.asking import TIMEOUT_NS
from switchmatrix.live.line_check.records import Result, Round, Timed, Verdict, trip
from switchmatrix.live.records import MS
from switchmatrix.model.rig import Device

Shared = dict[str, list[Timed]]


def share_out(devices: Sequence[Device], replies: Iterable[Timed]) -> tuple[Shared, tuple[Timed, ...]]:
    """Each device's replies, and those of nobody in the map.

    A reply goes to the device that it fits best: its model and its id, its model, its id, its maker.
    Only a device that lacks a reply gets one that does not fit it wholly.
    """
    shared: Shared = {device.name: [] for device in devices}
    left = list(replies)
    for rank in range(_RANKS):
        rest: list[Timed] = []
        for one in left:
            fitting = [device for device in devices if _rank(device, one.reply) == rank]
            lacking = [device for device in fitting if len(shared[device.name]) < device.gang]
            # A second reply of the very same box is its own: it answers twice.
            owner = (lacking or (fitting if rank <= 1 else []))[:1]
            if owner:
                shared[owner[0].name].append(one)
            else:
                rest.append(one)
        left = rest
    return shared, tuple(left)


_RANKS = 5


def _rank(device: Device, reply: Reply) -> int:
    """How well a reply fits a device, 0 best; past the ranks for not at all."""
    wanted, got = device.definition.identity, reply.identity
    if wanted is None:
        return _RANKS
    model, id = _model(wanted) == _model(got), device.id == reply.id
    if model and id:
        return 0
    if model and device.id is None:
        return 1
    if model:
        return 2
    if id:
        return 3
    return 4 if wanted.manufacturer == got.manufacturer and device.id is None else _RANKS


def _model(identity: Identity) -> tuple[tuple[int, ...], int, int]:
    return identity.manufacturer, identity.family, identity.member


def judge(devices: Sequence[Device], rounds: Sequence[Round]) -> tuple[list[Result], list[str]]:
    """The verdict on each device of one port that can answer, and the boxes that are not in the map."""
    shared = [share_out(devices, one.replies) for one in rounds]
    late = [share_out(devices, one.late)[0] for one in rounds]
    results = [
        _verdict(device, [given[device.name] for given, _ in shared], [one[device.name] for one in late])
        for device in devices
    ]
    strangers = dict.fromkeys(_stranger(one.reply) for _, rest in shared for one in rest)
    return _twins(devices, results), list(strangers)


def _stranger(reply: Reply) -> str:
    return f"{identity_said(reply.identity)}, device id {reply.id}"


def _verdict(device: Device, replies: Sequence[list[Timed]], late: Sequence[list[Timed]]) -> Result:
    wanted = device.definition.identity
    counts = [len(given) for given in replies]
    times = [one.after_ns for given in replies for one in given]
    every = [one.reply for given in replies for one in given]
    version = every[0].identity.version if every else None
    verdict, said = Verdict.ANSWERS, version_said(version)
    wrong = next((text for one in every if wanted and (text := _difference(device, wanted, one))), None)
    if not every:
        verdict, said = Verdict.SILENT, _silence(late)
    elif wrong is not None:
        verdict, said = Verdict.DIFFERS, wrong
    elif max(counts) > device.gang or (device.gang > 1 and 0 < min(counts) < device.gang):
        came = max(counts) if max(counts) > device.gang else min(counts)
        verdict, said = Verdict.DIFFERS, f"expected {_replies(device.gang)}, came {came}"
    elif min(counts) < device.gang:
        answered = sum(count >= device.gang for count in counts)
        verdict, said = Verdict.SILENT, f"answered {answered} of {len(counts)} times{_after(late)}"
    else:
        said = f"version {said}"
    return Result(device.name, device.port, verdict, said, trip(times), version)


def _silence(late: Sequence[list[Timed]]) -> str:
    return f"no reply within {TIMEOUT_NS // MS} ms{_after(late)}"


def _after(late: Sequence[list[Timed]]) -> str:
    """What came after the time-out."""
    times = [one.after_ns for given in late for one in given]
    return f"; one came after {min(times) / MS:.0f} ms" if times else ""


def _replies(count: int) -> str:
    return "1 reply" if count == 1 else f"{count} replies"


def _difference(device: Device, wanted: Identity, reply: Reply) -> str | None:
    """What was expected and what came, where the two differ."""
    got = reply.identity
    if _model(wanted) != _model(got):
        return f"expected {identity_said(wanted)}; came {identity_said(got)}"
    if device.id is not None and reply.id != device.id:
        return f"expected device id {device.id}; came device id {reply.id}"
    if wanted.version is not None and wanted.version != got.version:
        return f"expected version {version_said(wanted.version)}; came version {version_said(got.version)}"
    return None


def _twins(devices: Sequence[Device], results: Sequence[Result]) -> list[Result]:
    """Of boxes that nothing tells apart, one that is silent may be any of them."""
    out: list[Result] = []
    for device, result in zip(devices, results, strict=True):
        alike = [one.name for one in devices if _alike(one, device)]
        silent = any(one.verdict is Verdict.SILENT and one.device in alike for one in results)
        if len(alike) > 1 and silent and result.verdict is Verdict.ANSWERS:
            said = f"one of {' and '.join(alike)} is silent, and nothing tells them apart: give each its `id`"
            result = replace(result, verdict=Verdict.SILENT, said=said)
        out.append(result)
    return out


def _alike(one: Device, other: Device) -> bool:
    """Whether the replies of two devices look the same."""
    mine, theirs = one.definition.identity, other.definition.identity
    if mine is None or theirs is None or one.id is not None or other.id is not None:
        return False
    return _model(mine) == _model(theirs)
