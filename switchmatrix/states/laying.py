"""Laying lines down: later beats earlier, for good; a patch clears what it overwrites.

Within a layer words come first, then what absent devices become, then outright lines; within each,
patches before edits.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

from switchmatrix.definition.definition import Definition
from switchmatrix.diagnostics import names
from switchmatrix.diagnostics.diagnostic import Diagnostic, Related
from switchmatrix.model.settings import PATCH, Chosen, Fired, Left, Meaning, Setting, Target
from switchmatrix.source import Span
from switchmatrix.states.layers import Remaining
from switchmatrix.states.state import Origin


@dataclass(frozen=True, slots=True)
class Laid:
    """What stands for a target: its meaning and the line it comes from.

    `word` is the entry that brought it, `absent` the absent device it was translated from; both are
    None for an outright line.
    """

    meaning: Meaning
    by: Remaining
    span: Span
    word: str | None = None
    absent: str | None = None

    def origin(self) -> Origin:
        """The line that it comes from."""
        line, layer = self.by.line, self.by.layer
        outright = not self.brought and layer.of_song
        return Origin(line.span, layer.title, f"{line.name}: {line.text}", outright)

    @property
    def brought(self) -> bool:
        """Whether a word or a translation brought it."""
        return self.word is not None or self.absent is not None


@dataclass(frozen=True, slots=True)
class Translated:
    """Settings that an absent device's name brings, in the layer of that name."""

    absent: str
    settings: tuple[Setting, ...]
    by: Remaining


def same(one: Meaning, other: Meaning) -> bool:
    """Whether two meanings are one on the wire."""
    if isinstance(one, Chosen) and isinstance(other, Chosen):
        return one.patch.program == other.patch.program
    return one == other


@dataclass(slots=True)
class Table:
    """The settings laid so far. `definitions` are those of the devices that it is about."""

    definitions: dict[str, Definition]
    found: list[Diagnostic]
    laid: dict[Target, Laid] = field(default_factory=dict)
    fired: list[tuple[Target, Fired, Laid]] = field(default_factory=list)
    by_words: dict[tuple[int, Target], list[Laid]] = field(default_factory=dict)
    by_absent: dict[Target, list[Laid]] = field(default_factory=dict)

    def lay(self, lines: Iterable[Remaining], translated: Iterable[Translated] = ()) -> None:
        """Lay all lines (in layer order), with what absent devices become in its layer."""
        by_depth: dict[int, list[Remaining]] = {}
        for line in lines:
            by_depth.setdefault(line.depth, []).append(line)
        become: dict[int, list[Translated]] = {}
        for item in translated:
            become.setdefault(item.by.depth, []).append(item)
        for depth in sorted({*by_depth, *become}):
            here = by_depth.get(depth, [])
            self._words([line for line in here if line.line.entry])
            for item in become.get(depth, []):
                for setting in _patches_first(item.settings):
                    laid = Laid(setting.meaning, item.by, setting.span, absent=item.absent)
                    self.by_absent.setdefault(setting.target, []).append(laid)
                    self._put(setting.target, laid)
            self._outright([line for line in here if not line.line.entry])

    def _mine(self, line: Remaining) -> list[Setting]:
        return [s for s in line.line.settings if s.target.device in self.definitions]

    def _put(self, target: Target, laid: Laid) -> None:
        if isinstance(laid.meaning, Fired):
            self.fired.append((target, laid.meaning, laid))
        elif isinstance(laid.meaning, Left):
            self.laid.pop(target, None)
        else:
            self.laid[target] = laid

    def _words(self, lines: list[Remaining]) -> None:
        pairs = [(setting, line) for line in lines for setting in self._mine(line)]
        for setting, line in sorted(pairs, key=lambda pair: pair[0].target.control != PATCH):
            laid = Laid(setting.meaning, line, setting.span, word=line.line.name)
            self.by_words.setdefault((line.depth, setting.target), []).append(laid)
            if setting.target.control == PATCH:
                self._clear(setting.target.device, laid)
            self._put(setting.target, laid)

    def _outright(self, lines: list[Remaining]) -> None:
        pairs = [(setting, line) for line in lines for setting in self._mine(line)]
        set_here = {setting.target for setting, _ in pairs}
        for setting, line in sorted(pairs, key=lambda pair: pair[0].target.control != PATCH):
            laid = Laid(setting.meaning, line, setting.span)
            if setting.target.control == PATCH and not isinstance(setting.meaning, Left):
                undone = self._clear(setting.target.device, laid)
                self._warn(laid, [(t, was) for t, was in undone if was.brought and t not in set_here])
            self._put(setting.target, laid)

    def _clear(self, device: str, patch: Laid) -> list[tuple[Target, Laid]]:
        """Take away what earlier layers set on the device's stored controls.

        A patch that a word brings leaves what other words, and absent devices, have brought.
        """
        gone = []
        for control in self.definitions[device].controls:
            target = Target(device, control.name)
            was = self.laid.get(target)
            if was is None or not control.stored or was.by.depth >= patch.by.depth:
                continue
            if patch.word is not None and was.brought and was.word != patch.word:
                continue
            gone.append((target, self.laid.pop(target)))
        return gone

    def _warn(self, patch: Laid, undone: list[tuple[Target, Laid]]) -> None:
        for target, was in undone:
            message = (
                f"the patch `{patch.by.line.text}` undoes `{target}`, "
                f"which `{was.by.line.name}: {was.by.line.text}` had set"
            )
            help = f"set `{target}` (or the word) again beside the patch, or choose the patch by a word"
            related = (Related(was.by.line.span, "set here"),)
            self.found.append(names.PATCH_UNDOES_WORD.at(patch.by.line.span, message, help, related))

    def check_agreement(self) -> None:
        """Words of one layer, and absent devices, that bring different codes to a control that keeps one."""
        for target, kept in self.laid.items():
            if kept.word is not None:
                rivals = self.by_words[kept.by.depth, target]
                self._disagree(target, kept, [r for r in rivals if not same(r.meaning, kept.meaning)])
            elif kept.absent is not None:
                rivals = [r for r in self.by_absent[target] if r.absent != kept.absent]
                self._clash(target, kept, [r for r in rivals if not same(r.meaning, kept.meaning)])

    def _disagree(self, target: Target, kept: Laid, rivals: list[Laid]) -> None:
        for rival in rivals[:1]:
            one, other = _said(kept), _said(rival)
            message = f"`{other}` and `{one}` bring `{target}` different values in one block"
            help = f"say `{target}` outright in this block, or let only one of the words set it"
            related = (
                Related(rival.by.line.span, f"`{other}`"),
                Related(rival.span, "one value"),
                Related(kept.span, "the other value"),
            )
            self.found.append(names.WORDS_DISAGREE.at(kept.by.line.span, message, help, related))

    def _clash(self, target: Target, kept: Laid, rivals: list[Laid]) -> None:
        for rival in rivals[:1]:
            one, other = _said(kept), _said(rival)
            message = (
                f"`{one}` and `{other}` are absent here and both bring `{target}`, with different values"
            )
            help = "write a row for the two under `joint` in the rig's file, or a line of the rig's own"
            related = (
                Related(rival.by.line.span, f"`{other}`"),
                Related(rival.span, "one value"),
                Related(kept.span, "the other value"),
            )
            self.found.append(names.ABSENT_CLASH.at(kept.by.line.span, message, help, related))


def _said(laid: Laid) -> str:
    return f"{laid.by.line.name}: {laid.by.line.text}"


def _patches_first(settings: tuple[Setting, ...]) -> list[Setting]:
    return sorted(settings, key=lambda setting: setting.target.control != PATCH)
