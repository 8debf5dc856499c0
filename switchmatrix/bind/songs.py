"""Songs: first what every rig sees alike, then their lines on one rig, and changes to them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from fractions import Fraction

from switchmatrix.bind import places
from switchmatrix.bind.fields import Fields
from switchmatrix.bind.lines import Pairs, bind_lines
from switchmatrix.bind.naming import OWN_KEYS, name
from switchmatrix.bind.pace import budget, on_time
from switchmatrix.bind.scope import Scope
from switchmatrix.diagnostics import names
from switchmatrix.diagnostics.diagnostic import Diagnostic
from switchmatrix.diagnostics.nearest import did_you_mean
from switchmatrix.model.rig import Instrument
from switchmatrix.model.settings import Block, Left, Target
from switchmatrix.model.song import STANDING, BoundSong, Change, Place, Ref, Scene, Song
from switchmatrix.source import Span
from switchmatrix.syntax.nodes import Broken, Mapping, Node, Scalar

MOST_SCENES = 500
"""The most scenes that a song may have, and the most standing scenes of a rig."""

_SCENE_KEYS = OWN_KEYS | {"drop"}
_OWN = ("at", "like", "remark", "instrument", "tempo", "land", "budget")


@dataclass(frozen=True, slots=True)
class SongSource:
    """A song as every rig sees it, with the lines that each rig has yet to bind.

    `whole` is false where scenes of it could not be read.
    """

    song: Song
    base: tuple[tuple[Scalar, Node], ...]
    scenes: dict[str, tuple[tuple[Scalar, Node], ...]]
    hands: tuple[Scalar, ...]
    whole: bool


def bind_song(id: str, root: Node, found: list[Diagnostic]) -> SongSource | None:
    """A song's file; None where it could not be read."""
    if not isinstance(root, Mapping):
        return None
    fields = Fields(root, found)
    if id == STANDING:
        message = f"a song's file cannot be called `{STANDING}.yaml`: that word means the scenes of no song"
        found.append(names.BAD_NAME.at(fields.span, message, "give the file another name"))
        return None
    meters = places.meters(fields, found)
    clock = places.clock_of(fields, meters, found)
    tempos = places.tempos(fields, meters, found)
    scenes, lines, broken = _scenes(fields, clock, found)
    song = Song(
        id=id,
        title=fields.text("song") or id,
        remark=fields.text("remark"),
        instrument=_ref(fields.scalar("instrument")),
        tempos=tempos,
        meters=meters or (),
        order=_order(fields, scenes, broken, found),
        scenes=scenes,
        span=_first_line(fields.span),
        on_time=on_time(fields),
        budget=budget(fields),
        tuning=_ref(fields.scalar("tuning")),
        start=clock.start,
        rate=clock.rate,
    )
    tuning = fields.scalar("tuning")
    if tuning is not None and not fields.has("instrument"):
        message = "the song wants a tuning, and names no instrument that it is of"
        found.append(names.MISSING_KEY.at(tuning.span, message, "write its `instrument`"))
    base = fields.node.get("base")
    whole = not broken and not fields.broken("scenes")
    return SongSource(
        song, base.entries if isinstance(base, Mapping) else (), lines, fields.scalars("hands"), whole
    )


def _first_line(span: Span) -> Span:
    return Span(span.path, span.line, span.column, span.line, span.column + 1)


def _ref(scalar: Scalar | None) -> Ref | None:
    return Ref(scalar.text, scalar.span) if scalar is not None else None


def standing_source(fields: Fields, found: list[Diagnostic]) -> SongSource:
    """A rig's standing scenes, as a song of their own without base, places or tempo."""
    scenes, lines, broken = _scenes(fields, places.Clock(None, None, (), broken=True), found, "standing")
    key = fields.node.key("standing")
    span = key.span if key is not None else _first_line(fields.span)
    song = Song(STANDING, "Standing scenes", None, None, (), (), None, scenes, span)
    return SongSource(song, (), lines, (), not broken)


def _scenes(
    fields: Fields, clock: places.Clock, found: list[Diagnostic], under: str = "scenes"
) -> tuple[tuple[Scene, ...], dict[str, tuple[tuple[Scalar, Node], ...]], frozenset[str]]:
    """The scenes in file order, their own lines, and the names of broken ones."""
    given = list(fields.each(under))
    if len(given) > MOST_SCENES:
        span = given[MOST_SCENES][0].span
        message = f"there are {len(given)} scenes; {MOST_SCENES} are the most that one song may have"
        found.append(names.TOO_LARGE.at(span, message, "make two songs of it"))
    scenes: list[Scene] = []
    lines: dict[str, tuple[tuple[Scalar, Node], ...]] = {}
    broken: set[str] = set()
    for key, node in given[:MOST_SCENES]:
        if name(key, "a scene", found) is None or isinstance(node, Broken):
            broken.add(key.text)
            continue
        scenes.append(_scene(key, node, clock, found))
        pairs = node.entries if isinstance(node, Mapping) else ()
        lines[key.text] = tuple((k, v) for k, v in pairs if k.text not in _SCENE_KEYS)
        refused = ("drop",) if under == "scenes" else ("land", "budget", "drop", "at", "tempo")
        found.extend(_misplaced(k, under) for k, _ in pairs if k.text in refused)
    if not scenes and not broken and under == "scenes" and not fields.broken("scenes"):
        message = "the song has no scenes"
        found.append(names.VALUE_MISSING.at(_first_line(fields.span), message, "write at least one scene"))
    short = {key.text for key, node in given if isinstance(node, Scalar)}
    broken |= {key.text for key, _ in given[MOST_SCENES:]}
    _check_likes(scenes, broken, short, found)
    return tuple(scenes), lines, frozenset(broken)


def _misplaced(key: Scalar, under: str) -> Diagnostic:
    help = "`drop: yes` goes in the changes of a rig or a leg" if key.text == "drop" else "take it out"
    what = "a scene" if under == "scenes" else "a standing scene"
    return names.UNKNOWN_KEY.at(key.span, f"`{key.text}` is no key of {what}", help)


def _scene(key: Scalar, node: Node, clock: places.Clock, found: list[Diagnostic]) -> Scene:
    """A scene's own keys; a scene given as a name is like that scene."""
    if isinstance(node, Scalar):
        return Scene(key.text, (), (Ref(node.text, node.span),), None, None, None, key.span)
    fields = Fields(node if isinstance(node, Mapping) else Mapping((), node.span), found)
    at: tuple[Place, ...] = places.places(fields.node.get("at"), clock, found)
    tempo = fields.scalar("tempo")
    bpm = None
    if tempo is not None and not fields.has("at"):
        bpm = places.bpm_of(tempo, Fraction(1), found)
    elif tempo is not None:
        message = "a scene with a place takes its tempo from the song there"
        help = "write the tempo in the song's `tempo` list, or take the scene's `at` away"
        found.append(names.TEMPO_BESIDE_PLACE.at(tempo.span, message, help))
    likes = tuple(Ref(s.text, s.span) for s in fields.scalars("like"))
    return Scene(
        name=key.text,
        places=at,
        likes=likes,
        remark=fields.text("remark"),
        instrument=_ref(fields.scalar("instrument")),
        tempo=bpm,
        span=key.span,
        on_time=on_time(fields),
        budget=budget(fields),
    )


def _order(
    fields: Fields, scenes: tuple[Scene, ...], broken: frozenset[str], found: list[Diagnostic]
) -> tuple[Ref, ...] | None:
    if not fields.has("order"):
        return None
    known = {scene.name for scene in scenes}
    order = []
    for scalar in fields.scalars("order"):
        if scalar.text in known:
            order.append(Ref(scalar.text, scalar.span))
        elif scalar.text not in broken and not fields.broken("scenes"):
            found.append(_unknown_scene(scalar.text, scalar.span, known))
    return tuple(order)


def _unknown_scene(text: str, span: Span, known: Iterable[str]) -> Diagnostic:
    return names.UNKNOWN_NAME.at(span, f"no scene is called `{text}`", did_you_mean(text, known, "scenes"))


def _check_likes(scenes: list[Scene], broken: set[str], short: set[str], found: list[Diagnostic]) -> None:
    """Parents exist, none is its own ancestor, and none comes before one that it is itself like.

    `short` are scenes given as a name: beside a broken scene they may be its lines, not indented.
    """
    parents = {s.name: [p.name for p in s.likes] for s in scenes}
    in_circle: set[str] = set()
    for scene in scenes:
        for parent in scene.likes:
            after_broken = bool(broken) and scene.name in short
            if parent.name not in parents and parent.name not in broken and not after_broken:
                known = [n for n in parents if n != scene.name]
                found.append(_unknown_scene(parent.name, parent.span, known))
        above = _ancestors(scene.name, parents)
        if scene.name in above:
            if scene.name not in in_circle:
                in_circle |= {name for name in above if scene.name in _ancestors(name, parents)}
                first = next(p for p in scene.likes if p.name in in_circle)
                way = f", by way of `{first.name}`" if first.name != scene.name else ""
                message = f"`{scene.name}` is like itself{way}"
                found.append(names.LIKE_CIRCLE.at(first.span, message, "take one `like` of the circle away"))
        else:
            _check_parents(scene, parents, found)


def _check_parents(scene: Scene, parents: dict[str, list[str]], found: list[Diagnostic]) -> None:
    """Warn of a parent that is itself like one named after it."""
    for position, parent in enumerate(scene.likes):
        above = _ancestors(parent.name, parents)
        later = [p.name for p in scene.likes[position + 1 :] if p.name in above]
        if later:
            message = (
                f"`{parent.name}` is itself like `{later[0]}`, which is named after it: "
                f"the lines of `{parent.name}` still beat those of `{later[0]}`"
            )
            help = f"leave `{later[0]}` out: `{parent.name}` brings it"
            found.append(names.LIKE_ORDER.at(parent.span, message, help))


def _ancestors(name: str, parents: dict[str, list[str]]) -> set[str]:
    """Every scene that `name` is like, directly or not; itself too where that is a circle."""
    seen: set[str] = set()
    waiting = list(parents.get(name, ()))
    while waiting:
        parent = waiting.pop()
        if parent not in seen:
            seen.add(parent)
            waiting += parents.get(parent, ())
    return seen


def bind_on_rig(
    scope: Scope, source: SongSource, instruments: dict[str, Instrument | None], found: list[Diagnostic]
) -> BoundSong:
    """The song's lines on one rig."""
    in_song = replace(scope, hands=scope.with_hands(hands(scope, source.hands, found)))
    base = bind_lines(in_song, source.base, found)
    refuse_triggers(scope, base, "the base", found)
    warn_hands(base, in_song.hands, "the base", found)
    scenes = {name: bind_lines(in_song, pairs, found, own_keys=_OWN) for name, pairs in source.scenes.items()}
    song = source.song
    used = [song.instrument, *(scene.instrument for scene in song.scenes)]
    for ref in dict.fromkeys(ref for ref in used if ref is not None):
        instrument = instruments.get(ref.name)
        if ref.name not in instruments:
            message = f"no instrument is called `{ref.name}`"
            help = did_you_mean(ref.name, instruments, "instruments")
            found.append(names.UNKNOWN_NAME.at(ref.span, message, help))
        elif instrument is not None:
            warn_hands(instrument.sets, in_song.hands, f"instrument `{ref.name}`", found)
    return BoundSong(song, base, scenes, in_song.hands)


def hands(scope: Scope, given: tuple[Scalar, ...], found: list[Diagnostic]) -> frozenset[Target]:
    """What the player moves: a device stands for all that it has."""
    targets: set[Target] = set()
    for scalar in given:
        if scope.known(scalar.text):
            targets.update(scope.every_target(scalar.text))
            continue
        target = scope.target(scalar, found)
        if target is not None:
            targets.add(target)
    return frozenset(targets)


def refuse_triggers(scope: Scope, block: Block, what: str, found: list[Diagnostic]) -> None:
    """A trigger goes off when its scene is reached; nothing else is reached."""
    for line in block:
        if any(scope.is_trigger(setting.target) for setting in line.settings):
            message = f"a trigger (`{line.name}: {line.text}`) in {what} would never go off"
            found.append(
                names.TRIGGER_MISPLACED.at(line.span, message, "write it in the scene where it goes off")
            )


def warn_hands(block: Block, in_hands: frozenset[Target], what: str, found: list[Diagnostic]) -> None:
    """A line that the player's own controls pass by."""
    by_place: dict[Span, list[str]] = {}
    for line in block:
        held = [
            str(s.target) for s in line.settings if s.target in in_hands and not isinstance(s.meaning, Left)
        ]
        if held:
            by_place.setdefault(line.span, []).extend(held)
    for span, targets in by_place.items():
        shown = ", ".join(f"`{target}`" for target in targets)
        message = f"{what} sets {shown}, which the player's hands have: no scene will send it"
        help = "name it in the scene that is to move it, or in `home`"
        found.append(names.HANDS_IN_BASE.at(span, message, help))


def bind_changes(
    scope: Scope, by: str, node: Node | None, songs: dict[str, SongSource | None], found: list[Diagnostic]
) -> dict[str, tuple[Change, ...]]:
    """The changes of a rig or a leg, by song."""
    changes: dict[str, tuple[Change, ...]] = {}
    for key, value in node.entries if isinstance(node, Mapping) else ():
        if key.text not in songs:
            message = f"no song is called `{key.text}`"
            found.append(names.UNKNOWN_NAME.at(key.span, message, did_you_mean(key.text, songs, "songs")))
            continue
        source = songs[key.text]
        if source is not None and isinstance(value, Mapping):
            in_song = replace(scope, hands=scope.with_hands(hands(scope, source.hands, [])))
            changes[key.text] = _changes(in_song, by, Fields(value, found), source, found)
    return changes


def _changes(
    scope: Scope, by: str, fields: Fields, source: SongSource, found: list[Diagnostic]
) -> tuple[Change, ...]:
    changes: list[Change] = []
    base = fields.node.get("base")
    if isinstance(base, Mapping):
        block = bind_lines(scope, base.entries, found)
        refuse_triggers(scope, block, "the base", found)
        warn_hands(block, scope.hands, "the base", found)
        changes.append(Change(by, None, block, False, None, base.span))
    for key, node in fields.each("scenes"):
        if source.song.scene(key.text) is None:
            known = [scene.name for scene in source.song.scenes]
            if source.whole:
                found.append(_unknown_scene(key.text, key.span, known))
        elif isinstance(node, Mapping):
            scene = Fields(node, found)
            for k, _ in node.entries:
                if k.text in OWN_KEYS - {"remark"}:
                    message = f"a change cannot give a scene its `{k.text}`"
                    help = "it changes lines, `remark` and `drop`; for another arrangement write another song"
                    found.append(names.UNKNOWN_KEY.at(k.span, message, help))
            pairs: Pairs = [(k, v) for k, v in node.entries if k.text not in _SCENE_KEYS]
            remark = scene.text("remark")
            block = bind_lines(scope, pairs, found)
            changes.append(Change(by, key.text, block, scene.yes("drop"), remark, key.span))
    return tuple(changes)
