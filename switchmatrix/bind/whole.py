"""A whole show, bound: definitions, songs, rigs, and the show's own file."""

from __future__ import annotations

from dataclasses import dataclass

from switchmatrix.bind.definitions import bind_definition
from switchmatrix.bind.likeness import inherited
from switchmatrix.bind.rig import BoundRig, Songs, bind_rig
from switchmatrix.bind.show import bind_show
from switchmatrix.bind.songs import bind_song
from switchmatrix.definition.definition import Definition
from switchmatrix.diagnostics.diagnostic import Diagnostic
from switchmatrix.model.show import Show
from switchmatrix.syntax.nodes import Node


@dataclass(frozen=True, slots=True)
class Model:
    """A show, bound: what could not be read is None.

    `made_of` says for each rig whose files it is made of, its own first.
    """

    show: Show | None
    leg_changes: dict[str, Node]
    definitions: dict[str, Definition | None]
    songs: Songs
    rigs: dict[str, BoundRig | None]
    made_of: dict[str, list[str]]


@dataclass(frozen=True, slots=True)
class Roots:
    """The root node of every file by its id; `definitions_unlisted` where that folder could not be listed."""

    show: Node | None
    definitions: dict[str, Node]
    rigs: dict[str, Node]
    songs: dict[str, Node]
    definitions_unlisted: bool
    rigs_unlisted: bool


def bind(roots: Roots, found: list[Diagnostic]) -> Model:
    """Definitions, songs as every rig sees them, rigs, and the show's own file."""
    definitions = {id: bind_definition(id, node, found) for id, node in roots.definitions.items()}
    songs = {id: bind_song(id, node, found) for id, node in roots.songs.items()}
    rig_roots, made_of = inherited(roots.rigs, found)
    known = None if roots.definitions_unlisted else definitions
    rigs = {id: bind_rig(id, node, known, songs, found) for id, node in rig_roots.items()}
    on_disk = None if roots.rigs_unlisted else rig_roots
    shown = bind_show(roots.show, on_disk, songs, found) if roots.show is not None else None
    show, changes = shown if shown is not None else (None, {})
    return Model(show, changes, definitions, songs, rigs, made_of)
