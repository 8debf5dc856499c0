"""Faults in what a rig says of its devices: home, limits, the spare's words, mutes, switches, repeats."""

from __future__ import annotations

import re
from collections.abc import Iterator

from tests.seeded.kit import (
    TEXTS,
    Planted,
    changed,
    leg,
    put,
    spots,
)
from tests.seeded.rig_kit import SONG, devices_of, inside, line, on


def homes() -> Iterator[Planted]:
    """A line of home left out, of one device, or of an entry that is one control: said at the device.

    What a mute holds is said by its own check. The amplifier whose switches can only be flipped is left out:
    without their places at home no scene could flip them, which is a fault of another family.
    """
    entry = {"echo-send": "mixer", "direct": "mixer"}
    for rig in SONG:
        known = devices_of(rig)
        for spot, found in inside(rig, r"^  ([\w-]+)(?:\.[\w-]+)?: ", "home"):
            device = entry.get(found[1], found[1])
            held = rig == "b-rig" and found[1] == "echo-send"
            if spot.text == "  mixer.mute-all: off":
                mute = inside(rig, "while: ")[0][0]
                yield line("mute unsound", "mute-unsound", rig, spot, "", mute.place)
            elif device in known and not held and (rig, device) != ("bench", "amp"):
                yield line("missing home line", "undetermined", rig, spot, "", known[device].place)


def limits() -> Iterator[Planted]:
    """A limit that home, a word or a patch already passes."""
    tighter = (
        ("a-rig", "mixer.master: {most: 3 dB}", "mixer.master: {most: 1 dB}", "    up:   {amp"),
        ("a-rig", "mixer.in-4: {most: 0 dB}", "mixer.in-4: {most: -11 dB}", "  mixer: {in-4"),
        ("a-rig", "delay.feedback: {most: 90 %}", "delay.feedback: {most: 30 %}", "      long-tide: {at"),
        ("b-rig", "mixer.master: {most: 3 dB}", "mixer.master: {most: 1 dB}", "    up:   {combo"),
        (
            "b-rig",
            "multi.delay-repeats: {most: 90 %}",
            "multi.delay-repeats: {most: 87 %}",
            "  delay.freeze: {on",
        ),
    )
    for rig, old, new, begins in tighter:
        spot = inside(rig, re.escape(old))[0][0]
        at = inside(rig, f"^{re.escape(begins)}")[0][0]
        yield line("limit passed", "over-limit", rig, spot, spot.text.replace(old, new), at.place)


def lacking() -> Iterator[Planted]:
    """A word that the spare rig has not got: said at each line of the song or of home that has it."""
    for song in ("nine-lanterns", "ebb"):
        files = leg("b-rig", song)
        for spot, found in inside("b-rig", r"^    ([\w-]+): ", "vocabulary"):
            entries = [at for at, _ in inside("b-rig", r"^  [\w.-]+:$", "vocabulary")]
            entry = next(at for at in reversed(entries) if at.line < spot.line)
            name, word = entry.text.strip(" :"), found[1]
            uses = [
                at
                for path in (f"{song}.yaml", spot.path)
                for at, _ in spots(path, rf"(?:^ +|[{{,] ?){name}: {word}(?=[,}}\n ]|$)", files)
            ]
            if uses and "." not in name:
                expected = tuple(f"unknown-word {at.place}" for at in uses)
                yield Planted(
                    "word that the spare lacks", f"{song} {name}: {word}", changed(files, spot, ""), expected
                )


def untranslated() -> Iterator[Planted]:
    """A name of an absent device that the spare rig does not translate: said at the line that has it."""
    for song in ("ebb", "keepers-log", "nine-lanterns", "storm-glass", "slack-water"):
        files = leg("b-rig", song)
        for label in (
            "echo.time",
            "echo.repeats",
            "delay.time",
            "delay.feedback",
            "delay.mix",
            "reverb.decay",
            "modulation.rate",
            "modulation.depth",
        ):
            device, _, control = label.partition(".")
            uses = [
                at
                for at, _ in spots(
                    f"{song}.yaml", rf"\b{device}: \{{[^}}]*\b{control}: |\b{device}\.{control}: ", files
                )
            ]
            spot = inside("b-rig", rf"^  {label}:")[0][0]
            if len(uses) == 1:
                yield Planted(
                    "name that the spare lacks",
                    f"{song} {label}",
                    changed(files, spot, ""),
                    (f"not-translated {uses[0].place}",),
                )


def repeats() -> Iterator[Planted]:
    """A value that a patch stores, no longer listed, on a box that a second call does not bring back."""
    for song in ("ebb", "slack-water"):
        for pattern in (
            r"(?:tiled-room|long-hall|sea-cave).*(, decay: [\d.]+ s)",
            r"(?:tiled-room|long-hall|sea-cave).*(, pre-delay: \d+ ms)",
            r"(?:slow-swirl|seasick).*(, depth: \d+ %)",
            r"(?:slow-swirl|seasick).*(, detune: -?\d+ cents)",
        ):
            for spot, found in inside("a-rig", pattern, "devices"):
                name = spot.text.split(":")[0].strip()
                if name in _called(song):
                    files = changed(leg("a-rig", song), spot, put(spot, found, ""))
                    yield Planted(
                        "left to a repeat", f"{song} {spot.place}", files, (f"left-to-repeat {spot.place}",)
                    )


def _called(song: str) -> set[str]:
    """The patches of the reverb and the modulation that a song's words call, home's among them."""
    text = TEXTS[f"{song}.yaml"]
    words = {
        "wash: room": "tiled-room",
        "wash: hall": "long-hall",
        "wash: sea": "sea-cave",
        "motion: seasick": "seasick",
    }
    return {"tiled-room", "slow-swirl"} | {patch for word, patch in words.items() if word in text}


def mutes() -> Iterator[Planted]:
    """A mute that holds what cannot be held: stored by a covered patch, flipped, struck, or in hands."""
    for held in (
        "effects.level: 0 dB",
        "effects.drive: 0",
        "amp.lead: off",
        "amp.boost: off",
        "pedal.sweep: 0 %",
        "sampler.bell: now",
    ):
        spot, found = inside("bench", r"hold: \{(mixer.mute-all: on)\}")[0]
        yield line("mute unsound", "mute-unsound", "bench", spot, put(spot, found, held))


def flipped() -> Iterator[Planted]:
    """A switch that can only be flipped, and nobody says how it comes up, or the player moves it too."""
    path = "definitions/two-channel-amp.yaml"
    for control in ("lead", "boost"):
        files = on("bench")
        said = inside("bench", rf"    powers-up: .*\b{control}: \w+")[0][0]
        other = "boost: off" if control == "lead" else "lead: on"
        files = changed(files, said, f"    powers-up: {{{other}}}")
        spot, found = next(iter(spots(path, rf"{control}:.*(, powers-up: \w+)", files)))
        home = inside("bench", r"^  amp: \{lead", "home")[0][0]
        yield Planted(
            "toggle unsure",
            f"{control} comes up anyhow",
            changed(files, spot, put(spot, found, "")),
            (f"toggle-unsure {home.place}",),
        )
        first = next(iter(spots("bench-round.yaml", rf"amp: \{{.*\b{control}:|amp\.{control}:")))[0]
        # In one song's hands it is flipped anyhow by the rig's standing scene, which wants what home says.
        for hands, at in (("rigs/bench.yaml", first), ("bench-round.yaml", home)):
            files = on("bench")
            files[hands] += f"\nhands: [amp.{control}]\n"
            yield Planted(
                "toggle unsure", f"{control} in hands of {hands}", files, (f"toggle-unsure {at.place}",)
            )


def channels_missing() -> Iterator[Planted]:
    """A channel that the definition names and the device does not give."""
    for spot, found in inside("bench", r"channels: \{main: \d+(, (\w+): \d+)\}", "devices"):
        owner = [at for at in devices_of("bench").values() if at.line <= spot.line][-1]
        yield line("channel missing", "channel-missing", "bench", spot, put(spot, found, ""), owner.place)
    for definition, device in (
        ("fuzz-box", "fuzz"),
        ("bend-filter", "filter"),
        ("expression-pedal", "pedal"),
        ("line-mixer", "mixer"),
    ):
        files = on("bench")
        spot, found = next(iter(spots(f"definitions/{definition}.yaml", r"kind: level()", files)))
        at = devices_of("bench")[device]
        yield Planted(
            "channel missing",
            device,
            changed(files, spot, put(spot, found, ", channel: other")),
            (f"channel-missing {at.place}",),
        )


FAMILIES = (homes, limits, lacking, untranslated, repeats, mutes, flipped, channels_missing)
