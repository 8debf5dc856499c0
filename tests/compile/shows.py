"""Small shows for the receiver: records of what a rig is and a scene says, their YAML, their meaning.

Nothing here is the compiler's: the meaning is worked out anew, for shows of home and scenes' own
outright lines alone.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

PATCH = "patch"
AS_STORED = "as stored"
SHOW = "show: Tidewrack\nrigs: [a-rig]\nlegs: {tour: {rigs: [a-rig], setlist: [lantern]}}\n"


@dataclass(frozen=True, slots=True)
class Control:
    """A control: `words` to codes (none for a level of plain numbers, whose code is the number).

    `cc` None: it travels as a program change (in `bank`, on a device with banks), or as the `nrpn` of
    `bits`. `lsb` is the CC of a pair's lower half. A toggle's codes are 1 and 0: 127 and then 0 flip it.
    """

    name: str
    kind: str
    cc: int | None
    words: tuple[tuple[str, int], ...]
    stored: bool
    lsb: int | None = None
    nrpn: tuple[int, int] | None = None
    bits: int = 7
    bank: int | None = None
    flips: bool = False
    powers_up: str | None = None
    resets: tuple[str, ...] = ()
    settle_ms: int = 0

    @property
    def carried(self) -> bool:
        """Whether it travels as a program change."""
        return self.cc is None and self.nrpn is None

    @property
    def wide(self) -> bool:
        """Whether its codes have fourteen bits."""
        return self.lsb is not None or self.bits == 14

    def code(self, text: str) -> int:
        """The code that a text stands for."""
        return dict(self.words)[text] if self.words else int(text)

    def yaml(self) -> str:
        """The control in its definition."""
        keys = [f"kind: {self.kind}", *self._carrier()]
        if self.kind == "choice":
            keys.append("values: {" + ", ".join(f"{word}: {code}" for word, code in self.words) + "}")
        if self.kind == "level":
            keys.append("range: [0, 16383]" if self.wide else "range: [0, 127]")
        if self.flips:
            keys.append("toggle: {press: 127, release: 0}")
        if self.powers_up is not None:
            keys.append(f"powers-up: {self.powers_up}")
        if self.resets:
            keys.append(f"resets: [{', '.join(self.resets)}]")
        if self.settle_ms:
            keys.append(f"settle: {self.settle_ms} ms")
        if self.stored:
            keys.append("stored: yes")
        return "{" + ", ".join(keys) + "}"

    def _carrier(self) -> list[str]:
        if self.nrpn is not None:
            return [f"nrpn: {list(self.nrpn)}", f"data: {self.bits}"]
        if self.cc is None:
            return ["program: yes"] + ([] if self.bank is None else [f"bank: {self.bank + 1}"])
        return [f"cc: {self.cc}" if self.lsb is None else f"cc14: [{self.cc}, {self.lsb}]"]


@dataclass(frozen=True, slots=True)
class Patch:
    """A name for a program, and the texts that it is said to store."""

    name: str
    program: int
    stores: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Device:
    """A box: `count` programs (0: none), what it does with a repeat, its settle and gap in milliseconds.

    `bank` is its bank select (None: none), `bank_size` how many programs lie in a bank.
    """

    name: str
    port: str
    channel: int
    count: int
    first: int
    settle_ms: int
    repeat: str
    controls: tuple[Control, ...]
    patches: tuple[Patch, ...]
    bank: str | None = None
    always: bool = False
    bank_size: int = 128
    gap_ms: int = 0

    def control(self, name: str) -> Control:
        """The control of that name."""
        return next(c for c in self.controls if c.name == name)

    def below(self, name: str) -> tuple[str, ...]:
        """What setting the control reloads, and what that reloads."""
        direct = self.control(name).resets
        return tuple(dict.fromkeys([*direct, *(n for d in direct for n in self.below(d))]))

    def listed(self, program: int) -> dict[str, int]:
        """The codes that are said to be stored under a program, by whatever name."""
        codes = {c.name: c for c in self.controls}
        pairs = [pair for p in self.patches if p.program == program for pair in p.stores]
        return {name: codes[name].code(text) for name, text in pairs}

    def definition(self) -> str:
        """The definition's file."""
        lines = [f"definition: {self.name}"]
        if self.count:
            programs = f"count: {self.count}, first: {self.first}, settle: {self.settle_ms} ms"
            if self.bank is not None:
                when = "always" if self.always else "change"
                programs += f", bank: {self.bank}, bank-when: {when}, bank-size: {self.bank_size}"
            lines.append(f"programs: {{{programs}, repeat: {self.repeat}}}")
        if self.gap_ms:
            lines.append(f"gap: {self.gap_ms} ms")
        lines += ["controls:", *(f"  {c.name}: {c.yaml()}" for c in self.controls)]
        return "\n".join(lines) + "\n"

    def yaml(self) -> str:
        """The device in its rig's file."""
        patches = [
            f"{p.name}: {{at: {p.program + self.first}, stores: {_block(dict(p.stores))}}}"
            for p in self.patches
        ]
        block = f"{{port: {self.port}, channel: {self.channel}, definition: {self.name}"
        return f"  {self.name}: {block}, patches: {{{', '.join(patches)}}}}}"


@dataclass(frozen=True, slots=True)
class Controller:
    """Someone else on a port."""

    port: str
    channel: int
    programs: bool
    ccs: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Mute:
    """While any of `covers` moves, each of `holds` stands at its text; times in milliseconds."""

    covers: tuple[tuple[str, str], ...]
    holds: tuple[tuple[tuple[str, str], str], ...]
    before_ms: int
    after_ms: int

    def yaml(self) -> str:
        """The mute in its rig's file."""
        covers = ", ".join(f"{device}.{control}" for device, control in self.covers)
        holds = _block(_dotted(dict(self.holds)))
        return f"{{while: [{covers}], hold: {holds}, before: {self.before_ms} ms, after: {self.after_ms} ms}}"


Lines = Mapping[tuple[str, str], str]
"""(device, control or `patch`) to its text."""


@dataclass(frozen=True, slots=True)
class Show:
    """A rig, what its player holds, its home and the scenes of its one song."""

    speeds: tuple[tuple[str, str], ...]
    devices: tuple[Device, ...]
    controllers: tuple[Controller, ...]
    hands: tuple[tuple[str, str], ...]
    home: Lines
    scenes: tuple[tuple[str, Lines], ...]
    mutes: tuple[Mute, ...] = ()

    def files(self) -> dict[str, str]:
        """The show as YAML."""
        definitions = {f"definitions/{d.name}.yaml": d.definition() for d in self.devices}
        scenes = "".join(f"  {name}: {_block(_dotted(lines))}\n" for name, lines in self.scenes)
        return {
            "show.yaml": SHOW,
            "rigs/a-rig.yaml": self.rig(),
            "lantern.yaml": f"song: Lantern\nscenes:\n{scenes}",
            **definitions,
        }

    def rig(self) -> str:
        """The rig's file."""
        ports = [f"{port}: {{out: {port}, speed: {speed}}}" for port, speed in self.speeds]
        controllers = [
            f"c{n}: {{port: {c.port}, channel: {c.channel}, sends: {{{'programs: yes, ' * c.programs}"
            f"cc: {list(c.ccs)}}}}}"
            for n, c in enumerate(self.controllers, 1)
        ]
        hands = ", ".join(f"{device}.{control}" for device, control in self.hands)
        return "\n".join(
            [
                "rig: A rig",
                f"ports: {{{', '.join(ports)}}}",
                f"controllers: {{{', '.join(controllers)}}}",
                "devices:",
                *(d.yaml() for d in self.devices),
                f"hands: [{hands}]",
                f"home: {_block(_dotted(self.home))}",
                f"mutes: [{', '.join(mute.yaml() for mute in self.mutes)}]",
                "",
            ]
        )


def _dotted(lines: Lines) -> dict[str, str]:
    return {f"{device}.{control}": text for (device, control), text in lines.items()}


def _block(pairs: Mapping[str, str]) -> str:
    return "{" + ", ".join(f"{key}: {text}" for key, text in pairs.items()) + "}"


@dataclass(frozen=True, slots=True)
class Meaning:
    """What a scene means for a device: its program (None: nobody's), the codes that it gives.

    `stored` names the controls that are as the patch has them and not listed.
    """

    program: int | None
    codes: Mapping[str, int]
    stored: tuple[str, ...]


def meaning(show: Show, scene: Lines, device: Device) -> Meaning:
    """The scene's own lines over home's, the patch under its edits."""
    home = {c: t for (d, c), t in show.home.items() if d == device.name and (d, c) not in show.hands}
    own = {c: t for (d, c), t in scene.items() if d == device.name}
    if PATCH in own:
        cleared = {c.name for c in device.controls if c.stored}
        home = {c: t for c, t in home.items() if c not in cleared}
    texts = {**home, **own}
    programs = {p.name: p.program for p in device.patches}
    program = programs.get(texts.get(PATCH, ""))
    codes: dict[str, int] = {}
    stored: list[str] = []
    for control in device.controls:
        text = texts.get(control.name)
        left = text == AS_STORED or (text is None and (device.name, control.name) not in show.hands)
        if text is not None and text != AS_STORED:
            codes[control.name] = control.code(text)
        elif left and control.stored and program is not None:
            listed = device.listed(program)
            if control.name in listed:
                codes[control.name] = listed[control.name]
            else:
                stored.append(control.name)
    return Meaning(program, codes, tuple(stored))
