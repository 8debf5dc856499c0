"""What the near misses share: the base show with a step or two changed, by text."""

from __future__ import annotations

from dataclasses import dataclass, field

from tests.support import BASE_SHOW

Files = dict[str, str]
Edit = tuple[str, str, str]

SHOW = "show.yaml"
RIG = "rigs/a-rig.yaml"
SONG = "lantern.yaml"
ECHO = "definitions/two-tap-echo.yaml"
GATE = "definitions/plain-gate.yaml"
BOX = "definitions/box.yaml"

LAST_DEVICE = "      cliff: {at: 17, stores: {mix: 35 %, time: 480 ms}}\n"
HOME = "echo: {engage: off, patch: slap}"


@dataclass(frozen=True, slots=True)
class Near:
    """A finding, a show that raises it, and shows one step away from it in which it is silent.

    `beside` names the findings that a near miss raises instead, where it is not wholly sound.
    """

    name: str
    fires: Files
    silent: dict[str, Files]
    beside: dict[str, tuple[str, ...]] = field(default_factory=dict)


def but(*edits: Edit) -> Files:
    """Files of the base show with texts replaced: a path, what stands there once, what stands there now."""
    files: Files = {}
    for path, old, new in edits:
        text = files[path] if path in files else (BASE_SHOW / path).read_text(encoding="utf-8")
        if text.count(old) != 1:
            raise ValueError(f"{old!r} stands {text.count(old)} times in {path}")
        files[path] = text.replace(old, new)
    return files


def rig(devices: str = "", home: str = "", rest: str = "", *edits: Edit) -> Files:
    """The base show's rig with more devices, more of a home, and more sections."""
    files = but(
        (RIG, LAST_DEVICE, LAST_DEVICE + devices), (RIG, HOME, f"{HOME}, {home}" if home else HOME), *edits
    )
    return {**files, RIG: files[RIG] + rest}


def box(definition: str, keys: str = "channel: 4", home: str = "", rest: str = "") -> Files:
    """One more device, `box`, with a definition of its own and what home says of it."""
    more = rig(f"  box: {{port: rack, {keys}, definition: box}}\n", f"box: {{{home}}}" if home else "", rest)
    return {**more, BOX: f"definition: box\n{definition}"}


def song(text: str) -> Files:
    """The base show with another song Lantern."""
    return {SONG: f"song: Lantern\n{text}"}


def scenes(*lines: str, keys: str = "tempo: 120\n") -> Files:
    """The base show with other scenes."""
    return song(keys + "scenes:\n" + "".join(f"  {line}\n" for line in lines))


def shown(*parts: Files) -> Files:
    """Several changes together."""
    return {path: text for part in parts for path, text in part.items()}


def legs(setlist: str, rigs: str = "[a-rig]", rest: str = "") -> Files:
    """The base show's own file with another setlist."""
    return {
        SHOW: f"show: Tidewrack\nrigs: {rigs}\n{rest}legs:\n  tour: {{rigs: {rigs}, setlist: [{setlist}]}}\n"
    }
