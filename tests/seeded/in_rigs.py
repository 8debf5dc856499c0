"""Faults in the device map: channels, ports, patches, home, limits, what the spare rig lacks."""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import combinations

from tests.seeded.kit import TEXTS, Files, Planted, Spot, changed, leg, misspelt, plans, put, spots

SONG = {"a-rig": "nine-lanterns", "b-rig": "nine-lanterns", "bench": "bench-round"}
"""What each rig plays while a fault is in it: a song that strikes nothing."""


def _on(rig: str) -> Files:
    return leg(rig, SONG[rig])


def _in(rig: str, pattern: str, section: str = "") -> list[tuple[Spot, re.Match[str]]]:
    """The lines of a rig's file that have the pattern; of one section, where that is given."""
    path = f"rigs/{rig}.yaml"
    every = list(spots(path, pattern, _on(rig)))
    if not section:
        return every
    lines = _on(rig)[path].split("\n")
    start = lines.index(f"{section}:")
    end = next((n for n in range(start + 1, len(lines)) if re.match(r"\w", lines[n])), len(lines))
    return [(spot, found) for spot, found in every if start < spot.line - 1 < end]


def _line(
    family: str, name: str, rig: str, spot: Spot, text: str, at: str = "", apart: bool = True
) -> Planted:
    """The line's text changed: one finding there, or at another place."""
    files = changed(_on(rig), spot, text)
    return Planted(family, f"{spot.place} {text.strip()[:50]}", files, (f"{name} {at or spot.place}",), apart)


def _devices(rig: str) -> dict[str, Spot]:
    """Each device with the line that it begins on."""
    return {found[1]: spot for spot, found in _in(rig, r"^  ([\w-]+):", "devices")}


def _key(rig: str, device: str, key: str) -> tuple[Spot, re.Match[str]]:
    """The line of a device that gives a key, and the key's value as group 1."""
    start = _devices(rig)[device]
    below = _in(rig, rf"(?<![\w-]){key}: ([\w-]+)", "devices")
    return next((spot, found) for spot, found in below if spot.line >= start.line)


def _hears(rig: str, device: str) -> set[str]:
    """The controllers that a device of these rigs listens to, and `program` where it minds programs."""
    text = TEXTS[f"definitions/{_key(rig, device, 'definition')[1][1]}.yaml"]
    numbers = re.findall(r"\bcc: (\d+)", text)
    for listed in re.findall(r"\bcc: \[([^\]]*)\]", text):
        numbers += listed.split(", ")
    return set(numbers) | ({"program"} if re.search("^programs:|program: yes", text, re.M) else set())


def _says(rig: str) -> dict[str, set[str]]:
    """What each device of the sound rig is sent: controllers by number, and `program`."""
    said: dict[str, set[str]] = {}
    for plan in plans(_on(rig)):
        for song in plan.songs:
            for planned in (*song.visits, *song.scenes):
                for message in planned.messages:
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
        known, said = _devices(rig), _says(rig)
        for one, other in combinations(known, 2):
            if _key(rig, one, "port")[1][1] == _key(rig, other, "port")[1][1]:
                spot, found = _key(rig, other, "channel")
                text = put(spot, found, _key(rig, one, "channel")[1][1])
                name, at = "channel-shared", other
                if said[one] & _hears(rig, other):
                    name = "channel-clash"
                elif said[other] & _hears(rig, one):
                    name, at = "channel-clash", one
                yield _line("wrong channel", name, rig, spot, text, known[at].place)


def controllers() -> Iterator[Planted]:
    """The player's own controller on the channel of a device that it can move: a hint at the device."""
    for rig, port in (("a-rig", "pedalboard"), ("b-rig", "spare")):
        sends = {"program", "64", *map(str, range(80, 86))}
        spot, found = _in(rig, r"channel: (16)")[0]
        for device, at in _devices(rig).items():
            if _key(rig, device, "port")[1][1] == port and _hears(rig, device) & sends:
                text = put(spot, found, _key(rig, device, "channel")[1][1])
                yield _line(
                    "controller on a device's channel", "controller-reaches", rig, spot, text, at.place
                )


def ports() -> Iterator[Planted]:
    """A port that the rig has not got; a device that says none; a definition that there is no file of."""
    for rig in SONG:
        for device, at in _devices(rig).items():
            spot, found = _key(rig, device, "port")
            yield _line(
                "missing port", "unknown-name", rig, spot, put(spot, found, found[1] + "x"), apart=False
            )
            if "{port" in spot.text:
                yield _line(
                    "no port",
                    "missing-key",
                    rig,
                    spot,
                    re.sub(r"port: \w+, ", "", spot.text),
                    at.place,
                    apart=False,
                )
            spot, found = _key(rig, device, "definition")
            yield _line(
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
        for device in _devices(rig):
            if not re.search(
                rf"^  {device}:.*channels|^  {device}:\n    port.*\n    channels",
                TEXTS[f"rigs/{rig}.yaml"],
                re.M,
            ):
                spot, found = _key(rig, device, "channel")
                yield _line(
                    "channel outside", "number-outside", rig, spot, put(spot, found, "17"), apart=False
                )


def patches() -> Iterator[Planted]:
    """A patch under a number that no program of the device has."""
    for rig in SONG:
        for spot, found in _in(rig, r"(?:\{at: |^        at: |village: )(\d+)"):
            yield _line(
                "patch number outside", "patch-outside", rig, spot, put(spot, found, "999"), apart=False
            )


def twins() -> Iterator[Planted]:
    """A patch under the number of the one before it, and saying nothing of what it stores, or something else."""
    for rig in ("a-rig", "b-rig"):
        before = None
        for spot, found in _in(rig, r"^ +(?:[\w-]+: +\{|)at: (\d+)(?:, (stores: \{[^}]*\}))?"):
            if before is not None and spot.line - before[0].line <= 3:
                text = spot.text[: found.start(1)] + before[1][1] + spot.text[found.end(1) :]
                at = spot.place if "{at" in spot.text else f"{spot.path}:{spot.line - 1}"
                if found[2] is not None:
                    yield _line("two patches of one number", "bad-value", rig, spot, text)
                    bare = text.replace(f", {found[2]}", "")
                    yield _line("duplicate patch number", "patch-twice", rig, spot, bare, at)
            before = (spot, found)


def homes() -> Iterator[Planted]:
    """A line of home left out, of one device, or of an entry that is one control: said at the device.

    What a mute holds is said by its own check. The amplifier whose switches can only be flipped is left out:
    without their places at home no scene could flip them, which is a fault of another family.
    """
    entry = {"echo-send": "mixer", "direct": "mixer"}
    for rig in SONG:
        known = _devices(rig)
        for spot, found in _in(rig, r"^  ([\w-]+)(?:\.[\w-]+)?: ", "home"):
            device = entry.get(found[1], found[1])
            held = rig == "b-rig" and found[1] == "echo-send"
            if spot.text == "  mixer.mute-all: off":
                mute = _in(rig, "while: ")[0][0]
                yield _line("mute unsound", "mute-unsound", rig, spot, "", mute.place)
            elif device in known and not held and (rig, device) != ("bench", "amp"):
                yield _line("missing home line", "undetermined", rig, spot, "", known[device].place)


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
        spot = _in(rig, re.escape(old))[0][0]
        at = _in(rig, f"^{re.escape(begins)}")[0][0]
        yield _line("limit passed", "over-limit", rig, spot, spot.text.replace(old, new), at.place)


def lacking() -> Iterator[Planted]:
    """A word that the spare rig has not got: said at each line of a song, or of the rig's home, that has it."""
    for song in ("nine-lanterns", "ebb"):
        files = leg("b-rig", song)
        for spot, found in _in("b-rig", r"^    ([\w-]+): ", "vocabulary"):
            entry = [at for at, _ in _in("b-rig", r"^  [\w.-]+:$", "vocabulary") if at.line < spot.line][-1]
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
    """A name of an absent device that the spare rig does not translate: said at the first line that has it."""
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
            spot = _in("b-rig", rf"^  {label}:")[0][0]
            if len(uses) == 1:
                yield Planted(
                    "name that the spare lacks",
                    f"{song} {label}",
                    changed(files, spot, ""),
                    (f"not-translated {uses[0].place}",),
                )


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
            for spot, found in list(spots(f"rigs/{rig}.yaml", rf"^({key}):", _on(rig))):
                yield _line(
                    "unknown key", "unknown-key", rig, spot, put(spot, found, misspelt(key)), apart=False
                )


def values() -> Iterator[Planted]:
    """A word's or a patch's value outside its range; a name there that its device has not got."""
    for rig in SONG:
        for spot, found in _in(
            rig,
            r"(?:threshold|gate-threshold): (-\d+) dB|(?:repeats|mix|feedback|blend|body): (\d+) %|level: (-?\d+) dB",
        ):
            n = next(n for n in (1, 2, 3) if found[n] is not None)
            yield _line(
                "out of range",
                "out-of-range",
                rig,
                spot,
                spot.text[: found.start(n)] + "999" + spot.text[found.end(n) :],
                apart=False,
            )
        for spot, found in _in(rig, r"stores: \{([\w-]+):"):
            yield _line(
                "unknown control in a patch",
                "unknown-name",
                rig,
                spot,
                put(spot, found, misspelt(found[1]) + "x"),
                apart=False,
            )
        for spot, found in _in(
            rig, r"^hands: \[([\w.]+)|hold: \{([\w.-]+):|^  ([\w-]+\.[\w-]+): \{(?:least|most)"
        ):
            n = next(n for n in (1, 2, 3) if found[n] is not None)
            yield _line(
                "unknown control of the rig",
                "unknown-name",
                rig,
                spot,
                spot.text[: found.end(n)] + "x" + spot.text[found.end(n) :],
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
            for spot, found in _in("a-rig", pattern, "devices"):
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
    """A mute that holds what cannot be held: stored by a covered patch, flipped, struck, or in the player's hands."""
    for held in (
        "effects.level: 0 dB",
        "effects.drive: 0",
        "amp.lead: off",
        "amp.boost: off",
        "pedal.sweep: 0 %",
        "sampler.bell: now",
    ):
        spot, found = _in("bench", r"hold: \{(mixer.mute-all: on)\}")[0]
        yield _line("mute unsound", "mute-unsound", "bench", spot, put(spot, found, held))


def flipped() -> Iterator[Planted]:
    """A switch that can only be flipped, and nobody says how it comes up, or the player moves it too."""
    path = "definitions/two-channel-amp.yaml"
    for control in ("lead", "boost"):
        files = _on("bench")
        said = _in("bench", rf"    powers-up: .*\b{control}: \w+")[0][0]
        other = "boost: off" if control == "lead" else "lead: on"
        files = changed(files, said, f"    powers-up: {{{other}}}")
        spot, found = next(iter(spots(path, rf"{control}:.*(, powers-up: \w+)", files)))
        home = _in("bench", r"^  amp: \{lead", "home")[0][0]
        yield Planted(
            "toggle unsure",
            f"{control} comes up anyhow",
            changed(files, spot, put(spot, found, "")),
            (f"toggle-unsure {home.place}",),
        )
        first = next(iter(spots("bench-round.yaml", rf"amp: \{{.*\b{control}:|amp\.{control}:")))[0]
        # In one song's hands it is flipped anyhow by the rig's standing scene, which wants what home says.
        for hands, at in (("rigs/bench.yaml", first), ("bench-round.yaml", home)):
            files = _on("bench")
            files[hands] += f"\nhands: [amp.{control}]\n"
            yield Planted(
                "toggle unsure", f"{control} in hands of {hands}", files, (f"toggle-unsure {at.place}",)
            )


def channels_missing() -> Iterator[Planted]:
    """A channel that the definition names and the device does not give."""
    for spot, found in _in("bench", r"channels: \{main: \d+(, (\w+): \d+)\}", "devices"):
        device = [at for at in _devices("bench").values() if at.line <= spot.line][-1]
        yield _line("channel missing", "channel-missing", "bench", spot, put(spot, found, ""), device.place)
    for definition, device in (
        ("fuzz-box", "fuzz"),
        ("bend-filter", "filter"),
        ("expression-pedal", "pedal"),
        ("line-mixer", "mixer"),
    ):
        files = _on("bench")
        spot, found = next(iter(spots(f"definitions/{definition}.yaml", r"kind: level()", files)))
        at = _devices("bench")[device]
        yield Planted(
            "channel missing",
            device,
            changed(files, spot, put(spot, found, ", channel: other")),
            (f"channel-missing {at.place}",),
        )


FAMILIES = (
    channels,
    controllers,
    ports,
    numbers,
    patches,
    twins,
    homes,
    limits,
    lacking,
    untranslated,
    sections,
    values,
    repeats,
    mutes,
    flipped,
    channels_missing,
)
