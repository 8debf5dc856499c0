"""Laying lines down: later beats earlier, for good; a patch clears what it overwrites.

Within a layer words come first, then what absent devices become, then outright lines; within each,
patches before edits.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from switchmatrix.controls import encode
from switchmatrix.definition.controls import Control
from switchmatrix.definition.values import NoteValue
from switchmatrix.diagnostics import names
from switchmatrix.diagnostics.diagnostic import Diagnostic, Related
from switchmatrix.model.settings import PATCH, Chosen, Fired, Left, Meaning, Said, Target
from switchmatrix.states.layers import Laid, Placed, ReadyLine
from switchmatrix.states.state import Origin

Overwritten = dict[str, tuple[Target, ...]]
"""For each device the controls that a patch overwrites."""


@dataclass(frozen=True, slots=True)
class Translated:
    """What an absent device's name brings, in the layer of that name; patches first.

    `under` are the absent devices whose patch this is: their other names stay over it, in whatever layer.
    """

    depth: int
    settings: Placed
    under: frozenset[str]

    def without(self, targets: frozenset[Target], first: int) -> Translated:
        """The same, less some targets where the layer is below number `first`."""
        if self.depth >= first or not any(target in targets for target, _ in self.settings):
            return self
        kept = tuple(pair for pair in self.settings if pair[0] not in targets)
        return Translated(self.depth, kept, self.under)


def same(one: Meaning, other: Meaning, control: Control | None) -> bool:
    """Whether two meanings are one on the wire; a note value is not one with a time in milliseconds."""
    if isinstance(one, Chosen) and isinstance(other, Chosen):
        return one.patch.address == other.patch.address
    if isinstance(one, Said) and isinstance(other, Said) and control is not None:
        values = (one.value, other.value)
        if not any(isinstance(value, NoteValue) for value in values):
            return encode(control, one.value) == encode(control, other.value)
    return one == other


@dataclass(slots=True)
class Table:
    """The settings laid so far, each with the number of its layer.

    `without` are devices whose patch is done without: what it would undo is no loss.
    """

    overwritten: Overwritten
    controls: dict[Target, Control]
    found: list[Diagnostic]
    without: frozenset[str] = frozenset()
    laid: dict[Target, Laid] = field(default_factory=dict)
    left: dict[Target, Laid] = field(default_factory=dict)
    depth_of: dict[Target, int] = field(default_factory=dict)
    fired: list[tuple[Target, Laid]] = field(default_factory=list)
    by_words: dict[tuple[int, Target], list[Laid]] = field(default_factory=dict)
    by_absent: dict[Target, list[Laid]] = field(default_factory=dict)

    def lay(
        self, by_layer: list[tuple[int, list[ReadyLine]]], translated: list[Translated], *, absent: bool
    ) -> None:
        """Lay all lines of the rig's own devices (or of absent ones), with translations in their layers."""
        become: dict[int, list[Translated]] = {}
        for item in translated:
            become.setdefault(item.depth, []).append(item)
        for depth, lines in by_layer:
            self._words(depth, [_settings(line, absent) for line in lines if line.entry])
            for item in become.get(depth, ()):
                for target, laid in item.settings:
                    self.by_absent.setdefault(target, []).append(laid)
                    was = self.laid.get(target)
                    if was is None or not was.absent & item.under:
                        self._put(depth, target, laid)
            self._outright(depth, [_settings(line, absent) for line in lines if not line.entry])

    def _put(self, depth: int, target: Target, laid: Laid) -> None:
        if isinstance(laid.meaning, Fired):
            self.fired.append((target, laid))
        elif isinstance(laid.meaning, Left):
            self.laid.pop(target, None)
            self.left[target] = laid
            self.depth_of[target] = depth
        else:
            self.left.pop(target, None)
            self.laid[target] = laid
            self.depth_of[target] = depth

    def _words(self, depth: int, lines: list[Placed]) -> None:
        for placed in lines:
            for target, laid in placed:
                self.by_words.setdefault((depth, target), []).append(laid)
                if target.control == PATCH:
                    if not isinstance(laid.meaning, Left):
                        self._clear(depth, target.device, laid)
                    self._put(depth, target, laid)
        for placed in lines:
            for target, laid in placed:
                if target.control != PATCH:
                    self._put(depth, target, laid)

    def _outright(self, depth: int, lines: list[Placed]) -> None:
        patches = [pair for placed in lines for pair in placed if pair[0].control == PATCH]
        if patches:
            set_here = {target for placed in lines for target, _ in placed}
            for target, laid in patches:
                if not isinstance(laid.meaning, Left):
                    undone = self._clear(depth, target.device, laid)
                    told = target.device not in self.without
                    self._warn(
                        laid, [(t, was) for t, was in undone if told and was.brought and t not in set_here]
                    )
                self._put(depth, target, laid)
        for placed in lines:
            for target, laid in placed:
                if target.control != PATCH:
                    self._put(depth, target, laid)

    def _clear(self, depth: int, device: str, patch: Laid) -> list[tuple[Target, Laid]]:
        """Take away what earlier layers set on the device's stored controls.

        A patch that a word brings leaves what other words, and absent devices, have brought.
        """
        gone = []
        for target in self.overwritten[device]:
            was = self.laid.get(target)
            if was is None or self.depth_of[target] >= depth:
                continue
            if patch.word is not None and was.brought and was.word != patch.word:
                continue
            gone.append((target, self.laid.pop(target)))
        return gone

    def _warn(self, patch: Laid, undone: list[tuple[Target, Laid]]) -> None:
        if not undone:
            return
        shown = ", ".join(f"`{target}`" for target, _ in undone)
        words = ", ".join(dict.fromkeys(f"`{was.origin.name}`" for _, was in undone))
        message = f"`{patch.origin.name}` undoes {shown}, which {words} had set"
        help = "set it again (or say the word again) beside the patch, or choose the patch by a word"
        related = tuple(dict.fromkeys(Related(was.origin.span, "set here") for _, was in undone))
        self.found.append(names.PATCH_UNDOES_WORD.at(patch.origin.span, message, help, related))

    def check_agreement(self) -> None:
        """Words of one layer, and absent devices, that bring different codes to a control that keeps one."""
        clashes: dict[tuple[Origin, Origin], list[tuple[Target, Laid, Laid]]] = {}
        for target, kept in (*self.laid.items(), *self.left.items()):
            rivals: list[Laid] = []
            if kept.word is not None:
                rivals = self.by_words[self.depth_of[target], target]
            elif kept.absent:
                rivals = [r for r in self.by_absent[target] if not r.absent & kept.absent]
            control = self.controls.get(target)
            rival = next((r for r in rivals if not same(r.meaning, kept.meaning, control)), None)
            if rival is not None:
                clashes.setdefault((kept.origin, rival.origin), []).append((target, kept, rival))
        for found in clashes.values():
            self._clash([target for target, _, _ in found], *found[0][1:])

    def _clash(self, targets: list[Target], kept: Laid, rival: Laid) -> None:
        one, other = kept.origin.name, rival.origin.name
        shown = ", ".join(f"`{target}`" for target in targets)
        related = (
            Related(rival.origin.span, f"`{other}`"),
            Related(rival.span, "one value"),
            Related(kept.span, "the other value"),
        )
        if kept.word is not None:
            message = f"`{other}` and `{one}` bring {shown} different values in one block"
            help = "say it outright in this block, or let only one of the words set it"
            self.found.append(names.WORDS_DISAGREE.at(kept.origin.span, message, help, related))
        else:
            message = f"`{one}` and `{other}`, of absent devices, both bring {shown}, with different values"
            help = "write a row for the two under `joint` in the rig's file, or a value under its `changes`"
            self.found.append(names.ABSENT_CLASH.at(kept.origin.span, message, help, related))


def _settings(line: ReadyLine, absent: bool) -> Placed:
    return line.absent if absent else line.own
