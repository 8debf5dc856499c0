"""Shows of any size, with the variety of a touring show: an invented rig, invented songs.

Run as a program: `python -m tests.benchmarks.generate DIR --songs 60 --scenes 12 --devices 16 [--many]`.
It prints how many distinct states each device has; `--many` sets all of every device in every scene.
"""

from __future__ import annotations

import argparse
import random
import sys
from pathlib import Path

from switchmatrix.pipeline import judge

DEFINITIONS = {
    "gate": """\
definition: noise gate
controls:
  engage: {kind: switch, cc: 80, main: yes}
  threshold: {kind: level, cc: 20, range: [-70 dB, -20 dB], codes: [0, 100]}
  release: {kind: time, cc: 21, range: [0 ms, 508 ms]}
""",
    "amp": """\
definition: three-channel amplifier
controls:
  channel: {kind: choice, cc: 80, values: {clean: 0, edge: 1, lead: 2}}
  boost: {kind: switch, cc: 81}
  presence: {kind: level, cc: 20, range: [0, 10]}
  drive: {kind: level, cc: 21, range: [0, 127]}
""",
    "echo": """\
definition: two-tap echo
programs: {count: 128, first: 1, settle: 35 ms, repeat: recalls}
controls:
  engage: {kind: switch, cc: 80, main: yes}
  time: {kind: time, cc: 20, range: [0 ms, 1270 ms], stored: yes}
  mix: {kind: level, cc: 21, range: [0 %, 100 %], codes: [0, 100], stored: yes}
  tone: {kind: choice, cc: 22, values: {tape: 0, clean: 1, grain: 2}, stored: yes}
""",
    "mixer": """\
definition: line mixer
controls:
  mute-all: {kind: switch, cc: 102}
  in-1: {kind: level, cc: 20, range: [-60 dB, 6 dB], codes: [1, 67], bottom: 0}
  in-2: {kind: level, cc: 21, range: [-60 dB, 6 dB], codes: [1, 67], bottom: 0}
  send-1: {kind: level, cc: 22, range: [-60 dB, 6 dB], codes: [1, 67], bottom: 0}
""",
}
KINDS = ("gate", "amp", "echo", "mixer")
PATCHES = ("slap", "cliff", "well", "tide", "room", "hall", "cave", "pier")


def generate(
    folder: Path, songs: int, scenes: int, devices: int, seed: int = 1, *, many: bool = False
) -> None:
    """Write a show of one leg and one rig into `folder`.

    `many`: every scene gives every device values of its own, so that no two scenes' states are the same.
    """
    chance, seen = random.Random(seed), set[tuple[str, str]]()
    rig = [(f"{KINDS[n % 4]}-{n // 4 + 1}", KINDS[n % 4]) for n in range(devices)]
    _write(folder / "show.yaml", _show(songs))
    for kind, text in DEFINITIONS.items():
        _write(folder / "definitions" / f"{kind}.yaml", text)
    _write(folder / "rigs" / "main.yaml", _rig(rig))
    for number in range(songs):
        text = _full_song(chance, number, scenes, rig, seen) if many else _song(chance, number, scenes, rig)
        _write(folder / f"song-{number:04d}.yaml", text)


def distinct_states(folder: Path) -> dict[str, int]:
    """How many distinct states each device of a generated show has."""
    run = judge(folder).worked_out.runs[0]
    keys: dict[str, set[object]] = {device.name: set() for device in run.rig.devices}
    for _, song in run.songs:
        for scene in song.states:
            for device in scene.state.devices:
                keys[device.device.name].add(device.key)
    return {name: len(found) for name, found in keys.items()}


def _write(path: Path, text: str) -> None:
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, encoding="utf-8")


def _show(songs: int) -> str:
    setlist = "".join(f"      - song-{number:04d}\n" for number in range(songs))
    return f"show: Generated\nrigs: [main]\nlegs:\n  tour:\n    rigs: [main]\n    setlist:\n{setlist}"


def _rig(rig: list[tuple[str, str]]) -> str:
    ports = "ports:\n" + "".join(f"  rack-{n}: {{out: rack {n}, speed: din}}\n" for n in (1, 2))
    lines = ["rig: main rig", ports.rstrip(), "devices:"]
    for number, (name, kind) in enumerate(rig):
        lines.append(f"  {name}:")
        lines.append(f"    port: rack-{number % 2 + 1}")
        lines.append(f"    channel: {number // 2 % 16 + 1}")
        lines.append(f"    definition: {kind}")
        if kind == "echo":
            lines.append("    patches:")
            for place, patch in enumerate(PATCHES):
                stores = f"time: {100 + 90 * place} ms, mix: {20 + 5 * place} %, tone: tape"
                lines.append(f"      {patch}: {{at: {4 * place + 1}, stores: {{{stores}}}}}")
    lines.append("vocabulary:")
    for name, kind in rig:
        lines += _entry(name, kind)
    lines.append("home:")
    for name, kind in rig:
        lines += _home(name, kind)
    return "\n".join(lines) + "\n"


def _entry(name: str, kind: str) -> list[str]:
    words = {
        "gate": {
            "tight": "threshold: -38 dB, release: 60 ms",
            "loose": "threshold: -55 dB, release: 248 ms",
            "hard": "threshold: -30 dB, release: 20 ms",
        },
        "amp": {"quiet": "channel: clean, boost: off", "loud": "channel: lead, boost: on"},
        "echo": {"dry": "engage: off", "wet": "engage: on, mix: 40 %", "far": "engage: on, patch: cave"},
        "mixer": {"up": "in-1: 0 dB, in-2: 0 dB", "down": "in-1: -12 dB, in-2: -18 dB"},
    }[kind]
    rows = [f"    {word}: {{{name}: {{{lines}}}}}" for word, lines in words.items()]
    return [f"  {name} way:", *rows]


def _home(name: str, kind: str) -> list[str]:
    values = {
        "gate": "{engage: on, threshold: -55 dB, release: 248 ms}",
        "amp": "{channel: clean, boost: off, presence: 5, drive: 40}",
        "echo": "{engage: off, patch: slap}",
        "mixer": "{mute-all: off, in-1: 0 dB, in-2: -6 dB, send-1: -12 dB}",
    }[kind]
    return [f"  {name}: {values}"]


WORDS = {
    "gate": ("tight", "loose", "hard"),
    "amp": ("quiet", "loud"),
    "echo": ("dry", "wet", "far"),
    "mixer": ("up", "down"),
}


def _song(chance: random.Random, number: int, scenes: int, rig: list[tuple[str, str]]) -> str:
    tempo = chance.randrange(60, 180)
    base = ", ".join(_word(chance, *device) for device in chance.sample(rig, min(3, len(rig))))
    lines = [f"song: Generated Song {number}", f"tempo: {tempo}", f"base: {{{base}}}", "scenes:"]
    for scene in range(scenes):
        lines.append(f"  scene {scene + 1}:")
        places = [f"bar {8 * scene + 1}"]
        if chance.random() < 0.2:
            places.append(f"bar {8 * (scenes + scene) + 1}")
        lines.append(f"    at: [{', '.join(places)}]")
        if scene and chance.random() < 0.5:
            lines.append(f"    like: scene {chance.randrange(scene) + 1}")
        for device in chance.sample(rig, min(4, len(rig))):
            lines.append("    " + _word(chance, *device))
        name, kind = chance.choice(rig)
        lines += [f"    {line}" for line in _outright(chance, name, kind)]
        if chance.random() < 0.3:
            lines.append('    remark: "watch the conductor, then the lamp"')
    return "\n".join(lines) + "\n"


def _word(chance: random.Random, name: str, kind: str) -> str:
    return f"{name} way: {chance.choice(WORDS[kind])}"


def _outright(chance: random.Random, name: str, kind: str) -> list[str]:
    if kind == "gate":
        return [f"{name}.threshold: -{chance.randrange(25, 65)} dB"]
    if kind == "amp":
        return [f"{name}.presence: {chance.randrange(1, 10)}"]
    if kind == "echo":
        patch, time = chance.choice(PATCHES), chance.choice(("1/8", "1/8 dotted", "320 ms", "450 ms"))
        return [f"{name}: {{engage: on, patch: {patch}, time: {time}, mix: {chance.randrange(10, 60)} %}}"]
    return [f"{name}.send-1: -{chance.randrange(3, 30)} dB"]


def _full_song(
    chance: random.Random, number: int, scenes: int, rig: list[tuple[str, str]], seen: set[tuple[str, str]]
) -> str:
    lines = [f"song: Generated Song {number}", f"tempo: {chance.randrange(60, 180)}", "scenes:"]
    for scene in range(scenes):
        lines += [f"  scene {scene + 1}:", f"    at: bar {8 * scene + 1}"]
        lines += [f"    {name}: {{{_unseen(chance, name, kind, seen)}}}" for name, kind in rig]
    return "\n".join(lines) + "\n"


def _unseen(chance: random.Random, name: str, kind: str, seen: set[tuple[str, str]]) -> str:
    """Values that no scene has given the device yet."""
    values = _full(chance, kind)
    while (name, values) in seen:
        values = _full(chance, kind)
    seen.add((name, values))
    return values


def _full(chance: random.Random, kind: str) -> str:
    if kind == "gate":
        return f"threshold: -{chance.randrange(20, 71)} dB, release: {4 * chance.randrange(128)} ms"
    if kind == "amp":
        channel, boost = chance.choice(("clean", "edge", "lead")), chance.choice(("on", "off"))
        levels = f"presence: {chance.randrange(11)}, drive: {chance.randrange(128)}"
        return f"channel: {channel}, boost: {boost}, {levels}"
    if kind == "echo":
        edits = f"time: {10 * chance.randrange(128)} ms, mix: {chance.randrange(101)} %"
        return f"engage: on, patch: {chance.choice(PATCHES)}, {edits}"
    inputs = (f"{name}: -{chance.randrange(61)} dB" for name in ("in-1", "in-2", "send-1"))
    return ", ".join(inputs)


if __name__ == "__main__":
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("folder", type=Path)
    options.add_argument("--songs", type=int, default=60)
    options.add_argument("--scenes", type=int, default=12)
    options.add_argument("--devices", type=int, default=16)
    options.add_argument("--seed", type=int, default=1)
    options.add_argument("--many", action="store_true")
    given = options.parse_args()
    generate(given.folder, given.songs, given.scenes, given.devices, given.seed, many=given.many)
    counts = distinct_states(given.folder)
    for name, count in counts.items():
        sys.stdout.write(f"{name}: {count} distinct states\n")
    sys.stdout.write(f"at most {max(counts.values())} distinct states a device\n")
