"""What differs between two rigs, each change with the scenes that it touches."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace

from switchmatrix.compare import words
from switchmatrix.compare.definitions import definition_changes
from switchmatrix.compare.devices import NOBODY, device_changes
from switchmatrix.compare.impact import Impact, Taken
from switchmatrix.compare.recast import as_on
from switchmatrix.compare.records import Names, RigChange, RigDiff, Told, Touch
from switchmatrix.compare.renames import Renames
from switchmatrix.compare.sides import HOME
from switchmatrix.compile.remarks import milliseconds
from switchmatrix.model.rig import DoneWithout, Mute, Passed, Port, Rig, Words
from switchmatrix.model.settings import Block, Target
from switchmatrix.source import Span
from switchmatrix.states.state import Origin


def rig_diff(old: Rig, new: Rig, same: Renames, impact: Impact) -> RigDiff | None:
    """What is different; None where nothing is. What a tech must do at the rack comes first."""
    rigs = _Rigs(old, new, same, impact)
    changes = [*device_changes(old, new, same, impact), *rigs.changes()]
    if not changes and old.id == new.id:
        return None
    return RigDiff(Names(old.id, new.id), impact.scenes, tuple(sorted(changes, key=lambda c: not c.panel)))


_Texts = Mapping[str, tuple[str, Span]]


class _Rigs:
    """Two rigs: all of them but their devices. Old names of devices are read as new ones."""

    def __init__(self, old: Rig, new: Rig, same: Renames, impact: Impact) -> None:
        self.old, self.new, self.same, self.impact = old, new, same, impact

    def changes(self) -> Iterator[RigChange]:
        old, new = self.old, self.new
        if old.title != new.title:
            told = Told(old.title, old.span), Told(new.title, new.span)
            yield RigChange("title", NOBODY, NOBODY, *told, False, ())
        yield from self._ports()
        yield from self._controllers()
        yield from self._mutes()
        yield from self._hands()
        yield from self._each("limit", _limits(old), _limits(new), lambda _: ())
        yield from self._absents()
        yield from self._instruments()
        yield from self._vocabulary()
        yield from self._each("foot control", _pedals(old), _pedals(new), lambda _: ())
        yield from self._each("home", _lines(old.home), _lines(new.home), self._at_home)

    def _at_home(self, name: str) -> tuple[Touch, ...]:
        """The scenes that have another value by a line of home."""
        return self._from(lambda o: o.layer == HOME and self._now(_key(o)) == name)

    def _now(self, name: str) -> str:
        """A name of the old rig as the new one has it."""
        device, dot, control = name.partition(".")
        return f"{self.same.device(device)}{dot}{control}"

    def _each(
        self,
        what: str,
        old: _Texts,
        new: _Texts,
        touches: Callable[[str], tuple[Touch, ...]],
        panel: bool = False,
    ) -> Iterator[RigChange]:
        """Each name with a text of its own, before and now."""
        was = {self._now(name): (name, *told) for name, told in old.items()}
        for name in dict.fromkeys((*new, *was)):
            before, after = was.get(name), new.get(name)
            if (before[1] if before else None) == (after[0] if after else None):
                continue
            names = Names(before[0] if before else None, name if after else None)
            told = Told(before[1], before[2]) if before else None
            yield RigChange(what, names, NOBODY, told, Told(*after) if after else None, panel, touches(name))

    def _from(self, fits: Callable[[Origin], bool]) -> tuple[Touch, ...]:
        return self.impact.from_lines(lambda _, origin: fits(origin))

    def _ports(self) -> Iterator[RigChange]:
        there_now = {p.name: p for p in self.new.ports}

        def touches(name: str) -> tuple[Touch, ...]:
            port = there_now.get(name)
            if port is None or all(p.name != name for p in self.old.ports):
                return ()
            return self._by_device(
                lambda rig: replace(rig, ports=tuple(port if p.name == name else p for p in rig.ports))
            )

        old, new = self.old.ports, self.new.ports
        yield from self._each("port of the rig", _ports(old), _ports(new), touches, True)
        both = {p.name for p in old} & {p.name for p in new}
        yield from self._each("speed of the port", _speeds(old, both), _speeds(new, both), touches)

    def _by_device(self, became: Callable[[Rig], Rig]) -> tuple[Touch, ...]:
        """The scenes touched, one device after another."""
        found: list[Touch] = []
        for n in range(len(self.old.devices)):
            found += self.impact.touched(_at(became, n))
        return tuple(dict.fromkeys(found))

    def _controllers(self) -> Iterator[RigChange]:
        there = {c.name: c for c in self.new.controllers}

        def touches(name: str) -> tuple[Touch, ...]:
            now = there.get(name)
            kept = tuple(c for c in self.old.controllers if c.name != name)
            heard = kept if now is None else (*kept, now)
            return self._by_device(lambda rig: replace(rig, controllers=heard))

        old = {c.name: (words.controller(c), c.span) for c in self.old.controllers}
        new = {c.name: (words.controller(c), c.span) for c in self.new.controllers}
        yield from self._each("controller", old, new, touches)

    def _mutes(self) -> Iterator[RigChange]:
        """Mutes that cover the same are one."""
        was = [self._renamed(mute) for mute in self.old.mutes]
        gone = [m for m in was if m not in self.new.mutes]
        come = [m for m in self.new.mutes if m not in was]
        for mute in gone:
            now = next((m for m in come if m.covers == mute.covers), None)
            if now is not None:
                come.remove(now)
            yield self._mute(words.covers(mute), mute, now, was)
        for mute in come:
            yield self._mute(words.covers(mute), None, mute, was)

    def _renamed(self, mute: Mute) -> Mute:
        covers = tuple(self._target(t) for t in mute.covers)
        return replace(mute, covers=covers, holds=tuple((self._target(t), c) for t, c in mute.holds))

    def _target(self, target: Target) -> Target:
        return Target(self.same.device(target.device), target.control)

    def _mute(self, covers: str, was: Mute | None, now: Mute | None, every: list[Mute]) -> RigChange:
        names = Names(covers if was is not None else None, covers if now is not None else None)
        before = Told(words.mute(was), was.span) if was is not None else None
        after = Told(words.mute(now), now.span) if now is not None else None
        touches = self._muted(was, now, every)
        return RigChange("mute", names, NOBODY, before, after, False, touches)

    def _muted(self, was: Mute | None, now: Mute | None, every: list[Mute]) -> tuple[Touch, ...]:
        """The scenes touched by one mute, on the old rig where it has the devices."""
        old_names = {b.name: a.name for a, b in self.same.devices}

        def back(mute: Mute) -> Mute | None:
            targets = (*mute.covers, *(t for t, _ in mute.holds))
            if any(t.device not in old_names for t in targets):
                return None
            covers = tuple(Target(old_names[t.device], t.control) for t in mute.covers)
            holds = tuple((Target(old_names[t.device], t.control), c) for t, c in mute.holds)
            return replace(mute, covers=covers, holds=holds)

        changed = [now if m is was else m for m in every] + ([now] if was is None else [])
        mutes = tuple(m for m in (back(m) for m in changed if m is not None) if m is not None)
        return self.impact.touched(lambda rig: Taken(replace(rig, mutes=mutes)))

    def _hands(self) -> Iterator[RigChange]:
        was = {self._target(t) for t in self.old.hands}
        for target in sorted(was ^ self.new.hands):
            name = str(target)
            gone = target in was
            told = Told("the player moves it", self.old.span if gone else self.new.span)
            names = Names(name if gone else None, None if gone else name)
            yield RigChange(
                "hands",
                names,
                NOBODY,
                told if gone else None,
                None if gone else told,
                False,
                self._held(target),
            )

    def _held(self, target: Target) -> tuple[Touch, ...]:
        """Scenes in which the control differs now, or whose next ones send more for not knowing it."""
        differs = self.impact.from_controls(str(target))
        old = next((a for a, b in self.same.devices if b.name == target.device), None)
        if old is None:
            return differs
        names = frozenset(t.control for t in self.new.hands if t.device == target.device)
        before = frozenset(t.control for t in self.old.hands if t.device == old.name)
        held = before | {target.control} if target.control in names else before - {target.control}
        index = self.old.devices.index(old)
        after = self.impact.touched(lambda rig: Taken(rig, index, as_on(rig.devices[index], held=held)))
        return tuple(dict.fromkeys((*differs, *after)))

    def _absents(self) -> Iterator[RigChange]:
        old = {a.name: (a.definition.title, a.span) for a in self.old.absents}
        new = {a.name: (a.definition.title, a.span) for a in self.new.absents}
        yield from self._each("absent device", old, new, self._naming)
        used = {d.definition.id for d in (*self.old.devices, *self.new.devices)}
        was = {a.definition.id: a.definition for a in self.old.absents}
        for absent in self.new.absents:
            before = was.pop(absent.definition.id, None)
            if before is not None and before.id not in used:
                for found in definition_changes(before, absent.definition):
                    what, names = f"definition {found.what}", Names(before.id, before.id)
                    touches = self._naming(absent.name)
                    yield RigChange(what, names, found.part, found.was, found.now, False, touches)

    def _naming(self, device: str) -> tuple[Touch, ...]:
        """The scenes that differ by a line that names the device, itself or by a word."""
        rigs = (self.old, self.new)
        entries = {e.name for rig in rigs for e in rig.entries if device in _devices(e.stands_for)}
        return self._from(lambda o: _key(o).partition(".")[0] == device or _key(o) in entries)

    def _instruments(self) -> Iterator[RigChange]:
        def touches(name: str) -> tuple[Touch, ...]:
            instrument = name.partition(",")[0]
            return self._from(lambda o: o.layer == f"instrument {instrument}")

        yield from self._each("instrument", _instruments(self.old), _instruments(self.new), touches)

    def _vocabulary(self) -> Iterator[RigChange]:
        """Words, what absent devices' names become, and the tables of names that go together."""

        def of_word(name: str) -> tuple[Touch, ...]:
            return self._from(lambda o: o.name == name or _key(o) == name)

        yield from self._each("word", _entries(self.old), _entries(self.new), of_word)
        yield from self._each("translation", _translations(self.old), _translations(self.new), of_word)

        def of_joint(name: str) -> tuple[Touch, ...]:
            return self._from(lambda o: _key(o) in name.split(" and "))

        yield from self._each("joint table", _joints(self.old), _joints(self.new), of_joint)


def _at(became: Callable[[Rig], Rig], index: int) -> Callable[[Rig], Taken]:
    return lambda rig: Taken(became(rig), index)


def _key(origin: Origin) -> str:
    """The name that the line gives: `gate` of `gate: tight`."""
    return origin.name.partition(": ")[0]


def _devices(stands_for: Words | Passed | DoneWithout) -> set[str]:
    match stands_for:
        case Words(words_):
            return {s.target.device for _, brings in words_ for s in brings}
        case Passed(target):
            return {target.device}
        case DoneWithout():
            return set()


def _ports(ports: tuple[Port, ...]) -> _Texts:
    return {p.name: (f"out {p.out}, in {p.input or 'none'}", p.span) for p in ports}


def _speeds(ports: tuple[Port, ...], both: set[str]) -> _Texts:
    return {p.name: ("usb" if p.usb else "din", p.span) for p in ports if p.name in both}


def _pedals(rig: Rig) -> _Texts:
    """The player's pedals, which step and send nothing of their own; and how long they rest."""
    if rig.feet is None:
        return {}
    rest = {"rest": (milliseconds(rig.feet.rest_us), rig.feet.span)}
    return {words.does(p): (words.pedal(p), p.span) for p in rig.feet.pedals} | rest


def _limits(rig: Rig) -> _Texts:
    return {
        str(target): (words.limit(rig, target.device, target.control, limit), limit.span)
        for target, limit in rig.limits.items()
    }


def _lines(block: Block) -> _Texts:
    return {line.name: (line.text, line.span) for line in block}


def _instruments(rig: Rig) -> _Texts:
    return {
        i.name: (
            "; ".join(
                [
                    f"tuning {i.tuning or 'not said'}",
                    f"pickups {', '.join(i.pickups) or 'none'}",
                    f"retune {i.retune}",
                    *(f"{line.name} {line.text}" for line in i.sets),
                ]
            ),
            i.span,
        )
        for i in rig.instruments
    }


def _entries(rig: Rig) -> _Texts:
    return {
        f"{entry.name}: {word}" if word else entry.name: (text, entry.span)
        for entry in rig.entries
        for word, text in words.stands_for(entry.stands_for).items()
    }


def _translations(rig: Rig) -> _Texts:
    return {
        f"{target}: {word}" if word else str(target): (text, rig.span)
        for target, becomes in rig.translations.items()
        for word, text in words.stands_for(becomes).items()
    }


def _joints(rig: Rig) -> _Texts:
    return {" and ".join(str(t) for t in joint.of): (words.joint(joint), joint.span) for joint in rig.joints}
