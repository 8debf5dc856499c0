"""Texts to begin from: a small show, and a song with a show's own names in it."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable

from switchmatrix.model.rig import DoneWithout, Entry, Passed, Rig, Words

SHOW = {
    "show.yaml": """\
# The show: which rigs there are, and what each leg plays on them.
show: New show
rigs: [main]
legs:
  first-leg: {rigs: [main], setlist: [first-song]}
""",
    "first-song.yaml": """\
# A song says only what changes; all the rest is as `home` in the rig's file has it.
song: First song
tempo: 120
meter: 4/4
base: {gate: loose}                # holds in every scene that says nothing else
scenes:
  verse:  {at: bar 1}
  chorus: {at: bar 9, like: verse, gate: tight, echo: {engage: on, patch: long, time: 1/8 dotted}}
  # Back to the verse's sound, with the echo left on.
  outro:  {at: bar 17, like: verse, echo: on}
""",
    "rigs/main.yaml": """\
# The device map: what hangs on which port and channel, and what the songs' words stand for.
rig: Main rig
ports:
  rack: {out: rack, speed: din}    # a MIDI output of the computer, by its name
devices:
  gate-1: {port: rack, channel: 1, definition: noise-gate}
  echo:
    port: rack
    channel: 2
    definition: echo
    patches:
      short: {at: 1, stores: {mix: 20 %, time: 120 ms}}   # the number on the front panel
      long:  {at: 2, stores: {mix: 35 %, time: 480 ms}}
vocabulary:
  gate:
    tight: {gate-1.threshold: -38 dB}
    loose: {gate-1.threshold: -55 dB}
# The state of the rig when nothing else says: every control that no patch stores, and a patch for each box.
home:
  gate: loose
  echo: {engage: off, patch: short}
standing:
  silence: {echo: off}
""",
    "definitions/noise-gate.yaml": """\
# What one model of device understands. The numbers are in its maker's MIDI implementation chart.
definition: noise gate
controls:
  threshold: {kind: level, cc: 20, range: [-70 dB, -20 dB], codes: [0, 100]}
""",
    "definitions/echo.yaml": """\
definition: echo
# first: what the panel calls program 0. repeat: what it does when it gets the program that it is in already.
programs: {count: 128, first: 1, settle: 40 ms, repeat: recalls}
controls:
  engage: {kind: switch, cc: 80, main: yes}
  mix:    {kind: level, cc: 21, range: [0 %, 100 %], codes: [0, 100], stored: yes}
  time:   {kind: time, cc: 22, range: [0 ms, 1270 ms], stored: yes}
""",
}


def song(title: str, rigs: Iterable[Rig]) -> str:
    """A song that compiles as it stands, with the names that its scenes may use in comments."""
    known = list(rigs)
    lines = [
        "# Say only what changes; all the rest is as `home` in the rig's file has it.",
        f"song: {quoted(title)}",
        *_instruments(known),
        "tempo: 120",
        "meter: 4/4",
        "base: {}",
        "scenes:",
        "  verse:  {at: bar 1}",
        "  chorus: {at: bar 9, like: verse}",
        "",
        "# What a scene may say here:",
    ]
    for rig in known[:1]:
        lines += [line for entry in rig.entries for line in _comment(f"{entry.name}: {_takes(entry)}")]
        for device in rig.devices:
            patches = ", ".join(patch.name for patch in device.patches)
            controls = ", ".join(control.name for control in device.definition.controls)
            says = f"{device.name}: {{{controls}}}" + (f"; patches {patches}" if patches else "")
            lines += _comment(says)
    return "\n".join(lines) + "\n"


def _comment(text: str) -> list[str]:
    return textwrap.wrap(text, 96, initial_indent="#   ", subsequent_indent="#     ", break_on_hyphens=False)


def _instruments(rigs: list[Rig]) -> list[str]:
    names = list(dict.fromkeys(i.name for rig in rigs for i in rig.instruments))
    if not names:
        return []
    others = f"    # or {', '.join(names[1:])}" if names[1:] else ""
    return [f"instrument: {names[0]}{others}"]


def _takes(entry: Entry) -> str:
    match entry.stands_for:
        case Words(words):
            return ", ".join(word for word, _ in words)
        case Passed(target):
            return f"a value of {target}"
        case DoneWithout():
            return "anything (done without)"


def quoted(text: str) -> str:
    """The text as a YAML scalar that reads back as it is."""
    escaped = text.replace("\\", "\\\\").replace('"', '\\"')
    return f'"{escaped}"'
