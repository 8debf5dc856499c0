"""A change of the rig names exactly the scenes whose messages it alters, over generated shows."""

from __future__ import annotations

from collections.abc import Iterable

import pytest
from hypothesis import assume, given, settings

from switchmatrix.compare.diff import diff
from switchmatrix.compile.schedule import Timed
from switchmatrix.pipeline import Judged, plan
from tests.compare.kit import of
from tests.states.made import Made, shows
from tests.support import judged

ECHO, GATE, RIG = "definitions/two-tap-echo.yaml", "definitions/plain-gate.yaml", "rigs/a-rig.yaml"

EDITS = {
    "a channel": (RIG, "channel: 3", "channel: 7"),
    "a channel that nothing shares": (RIG, "channel: 2", "channel: 9"),
    "the number of a patch": (RIG, "cliff: {at: 17", "cliff: {at: 18"),
    "the number of another patch": (RIG, "slap: 4", "slap: 5"),
    "what a patch stores": (RIG, "stores: {mix: 35 %}", "stores: {mix: 36 %}"),
    "one more thing that a patch stores": (RIG, "stores: {mix: 35 %}", "stores: {mix: 35 %, time: 200 ms}"),
    "the name of a port's plug": (RIG, "{out: rack,", "{out: second rack,"),
    "the speed of a port": (RIG, "speed: din", "speed: usb"),
    "a device that hears all channels": (RIG, "channel: 4,", "channel: 4, omni: yes,"),
    "two boxes for one": (RIG, "channel: 4,", "channel: 4, gang: 2,"),
    "a limit": (RIG, "hands:", "limits: {echo.feed: {most: 90 %}}\nhands:"),
    "the title": (RIG, "rig: A rig", "rig: The A rig"),
    "a controller on a channel of its own": (
        RIG,
        "devices:",
        "controllers: {floor: {port: rack, channel: 12, sends: {cc: [80]}}}\ndevices:",
    ),
    "a controller that reaches a device": (
        RIG,
        "devices:",
        "controllers: {floor: {port: rack, channel: 2, sends: {cc: [20]}}}\ndevices:",
    ),
    "a mute": (
        RIG,
        "hands:",
        "mutes: [{while: [echo.patch], hold: {gate-1.threshold: -20 dB}, before: 5 ms, after: 0 ms}]\nhands:",
    ),
    "a line of home": (RIG, "gate-1.release: 250 ms", "gate-1.release: 260 ms"),
    "what an instrument sets": (RIG, "gate-1.release: 300 ms", "gate-1.release: 310 ms"),
    "one more thing in the player's hands": (RIG, "hands: [", "hands: [gate-1.threshold, "),
    "a carrier": (ECHO, "cc: 21", "cc: 25"),
    "a carrier of what is sent everywhere": (ECHO, "cc: 80", "cc: 81"),
    "the codes of a level": (GATE, "range: [-70 dB, -20 dB], codes: [0, 100]", "range: [-70 dB, -20 dB]"),
    "the codes of a stored level": (
        ECHO,
        "21, range: [0 %, 100 %], codes: [0, 100]",
        "21, range: [0 %, 100 %]",
    ),
    "how long a recall takes": (ECHO, "settle: 35 ms", "settle: 70 ms"),
    "the number of the first program": (ECHO, "first: 1", "first: 0"),
    "how many programs there are": (ECHO, "count: 128", "count: 100"),
    "a pause between messages": (GATE, "controls:", "gap: 2 ms\ncontrols:"),
    "a remapped program": (ECHO, "first: 1,", "first: 1, remap: {17: 20, 20: 17},"),
    "a device's clock": (ECHO, "controls:", "clock: yes\ncontrols:"),
}
"""One thing changed: the file, what is there, what stands there instead."""


def sent(messages: Iterable[Timed], outs: dict[str, str]) -> list[tuple[str, bytes]]:
    """What goes out of which plug, in no order."""
    return sorted((outs[m.step.port], m.step.data) for m in messages)


def every_scene(show: Judged) -> dict[str, list[list[tuple[str, bytes]]]]:
    """Each scene's messages from unknown, and at each of its visits."""
    (leg,) = plan(show)
    outs = {port.name: port.out for port in leg.rig.ports}
    found: dict[str, list[list[tuple[str, bytes]]]] = {}
    for song in leg.songs:
        for state in song.scenes:
            found.setdefault(state.scene.scene, []).append(sent(state.messages, outs))
        for visit in song.visits:
            found[visit.visit.scene].append(sent(visit.messages, outs))
    return found


@pytest.mark.parametrize("edit", EDITS)
@settings(max_examples=3)
@given(shows())
def test_a_change_touches_the_scenes_that_send_something_else_and_no_other(edit: str, made: Made) -> None:
    path, was, now = EDITS[edit]
    old = made.judged()
    files = {name: file.text for name, file in old.files.texts.items()}
    new = judged({**files, path: files[path].replace(was, now)}, base=None)
    assume(old.sound and new.sound and files[path].count(was) == 1)
    found = diff(of(old), of(new))
    before, after = every_scene(old), every_scene(new)
    (rig,) = found.rigs
    assert len(rig.changes) == 1
    assert {t.scene for t in rig.changes[0].touches} == {s for s in before if before[s] != after[s]}
