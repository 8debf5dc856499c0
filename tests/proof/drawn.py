"""Shows drawn from bytes, over every carrier, bank scheme and kind of repeat: most of them are sound."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TypeVar

from hypothesis import strategies as st
from hypothesis.strategies import SearchStrategy

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Made:
    """A control: its name, what stands in its braces, and what may be said to it."""

    name: str
    yaml: str
    says: tuple[str, ...]
    stored: bool


SEVEN = ("0", "1", "64", "127")
FOURTEEN = ("0", "1", "127", "128", "200", "16383")
KINDS: tuple[tuple[str, str, tuple[str, ...]], ...] = (
    ("engage", "kind: switch, cc: 80, main: yes", ("off", "on")),
    ("mix", "kind: level, cc: 21, range: [0, 127]", SEVEN),
    ("time", "kind: level, cc14: [12, 44], range: [0, 16383]", FOURTEEN),
    ("mode", "kind: choice, cc: 30, values: {tape: 0, clean: 1-5, grain: 77}", ("tape", "clean", "grain")),
    ("depth", "kind: level, nrpn: [1, 8], data: 7, range: [0, 127]", SEVEN),
    ("rate", "kind: level, nrpn: [1, 9], data: 14, close: yes, range: [0, 16383]", FOURTEEN),
    ("tune", "kind: level, rpn: [0, 0], data: 14, range: [0, 16383]", FOURTEEN),
    ("wave", "kind: choice, note: 60, release: yes, values: {calm: 1, high: 77}", ("calm", "high")),
    ("bend", "kind: level, pitch-bend: yes, range: [0, 16383]", FOURTEEN),
    ("press", "kind: level, channel-pressure: yes, range: [0, 127]", SEVEN),
    (
        "body",
        "kind: level, range: [0, 127], sysex: {body: [125, id, 1, value, checksum], checksum: [3, 4]}",
        SEVEN,
    ),
    (
        "tilt",
        "kind: level, range: [0, 16383], sysex: {body: [125, 2, value-lsb, value-msb], signed: yes}",
        FOURTEEN,
    ),
    ("also", "kind: level, cc: 22, also-cc: [23], range: [0, 127]", SEVEN),
    ("boost", "kind: switch, cc: 90, toggle: {press: 127, release: 0}, powers-up: off", ("off", "on")),
    ("lead", "kind: switch, cc: 91, toggle: {press: 100, release: none}, powers-up: on", ("off", "on")),
)
"""Name, braces, and what may be said; `relay`, which travels as a program, is made for its device."""

BANKS = (
    "",
    "bank: cc0, bank-when: change",
    "bank: cc32, bank-when: always, bank-size: 100",
    "bank: both, bank-when: change",
    "bank: both, bank-when: always",
)


class Dice:
    """Answers from a row of bytes; zeros for ever after its end."""

    def __init__(self, data: bytes) -> None:
        self.rest: Iterator[int] = iter(data)

    def often(self, percent: int) -> bool:
        """Yes that often; no for a zero."""
        return 255 - next(self.rest, 0) < percent * 256 // 100

    def pick(self, among: Sequence[T]) -> T:
        """One of them; the first for a zero."""
        return among[next(self.rest, 0) % len(among)]


def shows(devices: int = 2) -> SearchStrategy[dict[str, str]]:
    """Files of shows of up to so many boxes and four scenes."""
    return st.binary(min_size=200, max_size=200).map(lambda data: show_from(Dice(data), devices))


def show_from(dice: Dice, most: int) -> dict[str, str]:
    """The show that the dice decide."""
    names = ("alder", "birch", "cedar")[: dice.pick(range(1, most + 1))]
    files = {"show.yaml": "show: Drawn\nrigs: [a-rig]\nlegs: {tour: {rigs: [a-rig], setlist: [lantern]}}\n"}
    devices, controllers, home, hands = list[str](), list[str](), list[str](), list[str]()
    scenes = [list[str]() for _ in range(dice.pick((2, 3, 4)))]
    for number, name in enumerate(names):
        controls = _controls(dice)
        scheme = dice.pick(BANKS) if dice.often(70) else None
        files[f"definitions/{name}.yaml"] = _definition(dice, name, controls, scheme)
        channel = 2 * number + 1
        patches = _patches(dice, controls, scheme)
        side = f", side: {channel + 1}" if "side" in files[f"definitions/{name}.yaml"] else ""
        devices.append(
            f"  {name}: {{port: rack, channels: {{main: {channel}{side}}}, id: {number}, "
            f"definition: {name}, patches: {{{', '.join(f'p{n}: {p}' for n, p in enumerate(patches))}}}}}"
        )
        held = [c.name for c in controls if dice.often(8)]
        hands += [f"{name}.{control}" for control in held]
        for lines, share in ((home, 100), *((scene, 50) for scene in scenes)):
            lines += _lines(dice, name, controls, len(patches), share, held)
        if dice.often(25):
            sends = dice.pick(
                ("cc: [21, 90]", "programs: yes", "cc: [0, 32, 23]", "cc: [6, 99]", "notes: [60]")
            )
            heard = channel + (1 if side and dice.often(50) else 0)
            controllers.append(f"c{number}: {{port: rack, channel: {heard}, sends: {{{sends}}}}}")
    files["rigs/a-rig.yaml"] = "\n".join(
        [
            "rig: A rig",
            "ports: {rack: {out: rack, speed: din}}",
            f"controllers: {{{', '.join(controllers)}}}",
            "devices:",
            *devices,
            f"hands: [{', '.join(hands)}]",
            f"home: {{{', '.join(home)}}}",
            "",
        ]
    )
    blocks = "".join(f"  s{n}: {{{', '.join(lines)}}}\n" for n, lines in enumerate(scenes))
    files["lantern.yaml"] = f"song: Lantern\nscenes:\n{blocks}"
    return files


def _controls(dice: Dice) -> list[Made]:
    """A main switch and up to four more, some of them stored."""
    chosen = [KINDS[0], *[kind for kind in KINDS[1:] if dice.often(25)][:4]]
    return [Made(name, yaml, says, dice.often(55)) for name, yaml, says in chosen]


def _definition(dice: Dice, name: str, controls: list[Made], scheme: str | None) -> str:
    lines = [f"definition: {name}"]
    if scheme is not None:
        repeat = dice.pick(("recalls", "recalls", "nothing", "toggles engage"))
        remap = ", remap: {5: 9}" if dice.often(15) else ""
        count = 128 if scheme == "" else 300
        bank = f", {scheme}" if scheme else ""
        lines.append(f"programs: {{count: {count}, first: 0, settle: 5 ms, repeat: {repeat}{bank}{remap}}}")
    lines.append("controls:")
    for n, control in enumerate(controls):
        keys = control.yaml
        if control.stored and scheme is not None:
            keys += ", stored: yes"
        if control.name == "mode" and n + 1 < len(controls) and dice.often(60):
            keys += f", resets: [{controls[-1].name}]"
        if "sysex" not in keys and dice.often(15):
            keys += ", channel: side"
        lines.append(f"  {control.name}: {{{keys}}}")
    if dice.often(20):
        bank = dice.pick((", bank: 1", ", bank: 2")) if scheme else ""
        bank += ", channel: side" if dice.often(40) else ""
        lines.append(f"  relay: {{kind: choice, program: yes{bank}, values: {{left: 90, right: 91}}}}")
        controls.append(Made("relay", "", ("left", "right"), stored=False))
    return "\n".join(lines) + "\n"


def _patches(dice: Dice, controls: list[Made], scheme: str | None) -> list[str]:
    """Two patches, mostly in different banks where there are any; most list all that they store."""
    if scheme is None:
        return []
    places = (0, 5) if scheme == "" else dice.pick(((0, 5), (0, 105), (3, 299), (128, 200)))
    out = []
    for at in places:
        said = [f"{c.name}: {dice.pick(c.says)}" for c in controls if c.stored and not dice.often(15)]
        out.append(f"{{at: {at}, stores: {{{', '.join(said)}}}}}")
    return out


def _lines(
    dice: Dice, name: str, controls: list[Made], patches: int, share: int, held: list[str]
) -> list[str]:
    """Lines of a block: nearly all for a share of 100, the held ones never there."""
    out = []
    if patches and dice.often(share):
        out.append(f"{name}.patch: p{dice.pick(range(patches))}")
    for control in controls:
        said = share - 60 if control.stored else share
        if dice.often(said) and not (control.name in held and share == 100):
            out.append(f"{name}.{control.name}: {dice.pick(control.says)}")
    return out
