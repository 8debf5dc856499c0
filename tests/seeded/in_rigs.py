"""Faults in the device map: channels, ports, definitions, patches, and what stands in its sections."""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import combinations

from tests.seeded.kit import (
    TEXTS,
    Planted,
    misspelt,
    plans,
    put,
    spots,
)
from tests.seeded.rig_kit import SONG, devices_of, inside, key_of, line, on


def hears(rig: str, device: str) -> set[str]:
    """The controllers that a device of these rigs listens to, and `program` where it minds programs."""
    text = TEXTS[f"definitions/{key_of(rig, device, 'definition')[1][1]}.yaml"]
    numbers = re.findall(r"\bcc: (\d+)", text)
    for listed in re.findall(r"\bcc: \[([^\]]*)\]", text):
        numbers += listed.split(", ")
    return set(numbers) | ({"program"} if re.search("^programs:|program: yes", text, re.M) else set())


def _says(rig: str) -> dict[str, set[str]]:
    """What each device of the sound rig is sent: controllers by number, and `program`."""
    said: dict[str, set[str]] = {}
    for plan in plans(on(rig)):
        for song in plan.songs:
            visits = [message for visit in song.visits for message in visit.messages]
            scenes = [message for scene in song.scenes for message in scene.messages]
            for message in (*visits, *scenes):
                data = message.step.data
                kind = "program" if data[0] >> 4 == 0xC else str(data[1])
                said.setdefault(message.step.device, set()).add(kind)
    return said


def channels() -> Iterator[Planted]:
    """A device on the channel of another one of its port.

    Said at the later one of the two where it acts on what the earlier one is sent; else at the earlier one,
    where that acts on what the later one is sent; else a hint at the later one.
    """
    for rig in ("a-rig", "b-rig"):
        known, said = devices_of(rig), _says(rig)
        for one, other in combinations(known, 2):
            if key_of(rig, one, "port")[1][1] == key_of(rig, other, "port")[1][1]:
                spot, found = key_of(rig, other, "channel")
                text = put(spot, found, key_of(rig, one, "channel")[1][1])
                name, at = "channel-shared", other
                if said[one] & hears(rig, other):
                    name = "channel-clash"
                elif said[other] & hears(rig, one):
                    name, at = "channel-clash", one
                yield line("wrong channel", name, rig, spot, text, known[at].place)


def controllers() -> Iterator[Planted]:
    """The player's own controller on the channel of a device that it can move: a hint at the device."""
    for rig, port in (("a-rig", "pedalboard"), ("b-rig", "spare")):
        sends = {"program", "64", *map(str, range(80, 86))}
        spot, found = inside(rig, r"channel: (16)")[0]
        for device, at in devices_of(rig).items():
            if key_of(rig, device, "port")[1][1] == port and hears(rig, device) & sends:
                text = put(spot, found, key_of(rig, device, "channel")[1][1])
                yield line(
                    "controller on a device's channel", "controller-reaches", rig, spot, text, at.place
                )


def ports() -> Iterator[Planted]:
    """A port that the rig has not got; a device that says none; a definition that there is no file of."""
    for rig in SONG:
        for device, at in devices_of(rig).items():
            spot, found = key_of(rig, device, "port")
            yield line(
                "missing port", "unknown-name", rig, spot, put(spot, found, found[1] + "x"), apart=False
            )
            if "{port" in spot.text:
                yield line(
                    "no port",
                    "missing-key",
                    rig,
                    spot,
                    re.sub(r"port: \w+, ", "", spot.text),
                    at.place,
                    apart=False,
                )
            spot, found = key_of(rig, device, "definition")
            yield line(
                "unknown definition",
                "unknown-name",
                rig,
                spot,
                put(spot, found, misspelt(found[1])),
                apart=False,
            )


def numbers() -> Iterator[Planted]:
    """A number that no MIDI channel has."""
    for rig in SONG:
        for device in devices_of(rig):
            if not re.search(
                rf"^  {device}:.*channels|^  {device}:\n    port.*\n    channels",
                TEXTS[f"rigs/{rig}.yaml"],
                re.M,
            ):
                spot, found = key_of(rig, device, "channel")
                yield line(
                    "channel outside", "number-outside", rig, spot, put(spot, found, "17"), apart=False
                )


def patches() -> Iterator[Planted]:
    """A patch under a number that no program of the device has."""
    for rig in SONG:
        for spot, found in inside(rig, r"(?:\{at: |^        at: |village: )(\d+)"):
            yield line(
                "patch number outside", "patch-outside", rig, spot, put(spot, found, "999"), apart=False
            )


def twins() -> Iterator[Planted]:
    """A patch under the number of the one before it, and silent on what it stores, or not."""
    for rig in ("a-rig", "b-rig"):
        before = None
        for spot, found in inside(rig, r"^ +(?:[\w-]+: +\{|)at: (\d+)(?:, (stores: \{[^}]*\}))?"):
            if before is not None and spot.line - before[0].line <= 3:
                text = spot.text[: found.start(1)] + before[1][1] + spot.text[found.end(1) :]
                at = spot.place if "{at" in spot.text else f"{spot.path}:{spot.line - 1}"
                if found[2] is not None:
                    yield line("two patches of one number", "bad-value", rig, spot, text)
                    bare = text.replace(f", {found[2]}", "")
                    yield line("duplicate patch number", "patch-twice", rig, spot, bare, at)
            before = (spot, found)


def sections() -> Iterator[Planted]:
    """A section's key misspelt: what it holds is read as it was meant."""
    for rig in SONG:
        for key in (
            "controllers",
            "instruments",
            "vocabulary",
            "hands",
            "home",
            "limits",
            "standing",
            "remark",
        ):
            for spot, found in list(spots(f"rigs/{rig}.yaml", rf"^({key}):", on(rig))):
                yield line(
                    "unknown key", "unknown-key", rig, spot, put(spot, found, misspelt(key)), apart=False
                )


def values() -> Iterator[Planted]:
    """A word's or a patch's value outside its range; a name there that its device has not got."""
    for rig in SONG:
        levels = r"threshold: (-\d+) dB|(?:repeats|mix|feedback|blend|body): (\d+) %|level: (-?\d+) dB"
        for spot, found in inside(rig, levels):
            n = next(n for n in (1, 2, 3) if found[n] is not None)
            yield line(
                "out of range",
                "out-of-range",
                rig,
                spot,
                spot.text[: found.start(n)] + "999" + spot.text[found.end(n) :],
                apart=False,
            )
        for spot, found in inside(rig, r"stores: \{([\w-]+):"):
            yield line(
                "unknown control in a patch",
                "unknown-name",
                rig,
                spot,
                put(spot, found, misspelt(found[1]) + "x"),
                apart=False,
            )
        for spot, found in inside(
            rig, r"^hands: \[([\w.]+)|hold: \{([\w.-]+):|^  ([\w-]+\.[\w-]+): \{(?:least|most)"
        ):
            n = next(n for n in (1, 2, 3) if found[n] is not None)
            yield line(
                "unknown control of the rig",
                "unknown-name",
                rig,
                spot,
                spot.text[: found.end(n)] + "x" + spot.text[found.end(n) :],
            )


FAMILIES = (channels, controllers, ports, numbers, patches, twins, sections, values)
