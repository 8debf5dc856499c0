"""A second reading of the layer rules, for generated shows alone: plain dictionaries, rule after rule."""

from __future__ import annotations

from tests.states.made import HOME, INSTRUMENT, Block, Made

STORED = ("echo.mix", "echo.time")
CONTROLS = (*(name for name, _ in HOME), *STORED)

Said = dict[str, str]
"""A layer's single lines."""

Got = tuple[str, int, str | None, frozenset[str]]
"""A value, its layer's number, the entry that brought it, and all that words of that layer brought."""


def single(lines: Block) -> Said:
    """Lines made single; a dotted line decides over the device's own."""
    wide: Said = {}
    for name, value in lines:
        if name == "echo":
            wide |= (
                {"echo.engage": value}
                if value in ("on", "off")
                else {"echo.patch": value, "echo.engage": "on"}
            )
    return wide | {name: value for name, value in lines if name != "echo"}


def chain(made: Made, name: str) -> list[str]:
    """The scene's parents in the order named, each after its own and only once; last the scene."""
    scene = next(s for s in made.scenes if s.name == name)
    out: list[str] = []
    for parent in scene.likes:
        out += [above for above in chain(made, parent) if above not in out]
    return [*out, name]


def layers(made: Made, name: str) -> tuple[list[Said], int]:
    """Home, instrument, base, each scene of the chain with its change over it; where the chain starts."""
    out = [single(made.rig.home), single(INSTRUMENT), single(made.base)]
    start = len(out)
    lines_of = {s.name: single(s.lines) for s in made.scenes}
    for above in chain(made, name):
        out.append(lines_of[above])
        said = dict(lines_of[above])
        for changed, lines in made.changes:
            if changed == above:
                new = {n: v for n, v in single(lines).items() if said.get(n) != v}
                said |= new
                out.append(new)
    return out, start


def remaining(said: list[Said]) -> list[Said]:
    """Each name's last line, over home's."""
    last = {name: depth for depth, layer in enumerate(said) for name in layer}
    return [{n: v for n, v in layer.items() if depth in (0, last[n])} for depth, layer in enumerate(said)]


def held(made: Made) -> set[str]:
    """The controls in the player's hands."""
    return {c for c in CONTROLS if c in made.rig.hands or c.partition(".")[0] in made.rig.hands}


def reading(made: Made, name: str) -> dict[str, str] | None:
    """The scene's state as text; None where two words of one layer disagree about what it keeps."""
    said, start = layers(made, name)
    players = held(made)
    got: dict[str, Got] = {}
    named: set[str] = set()
    for depth, layer in enumerate(remaining(said)):
        spared = players if 0 < depth < start else set()
        words = [
            (entry, target, value)
            for entry in made.rig.words
            if entry in layer
            for target, value in made.rig.words[entry][layer[entry]]
            if target not in spared
        ]
        outright = {n: v for n, v in layer.items() if n not in made.rig.words and n not in spared}
        _lay_words(got, depth, words)
        if "echo.patch" in outright:
            for target in STORED:
                if target in got and got[target][1] < depth:
                    del got[target]
        got |= {target: (value, depth, None, frozenset()) for target, value in outright.items()}
        if depth >= start:
            named |= {*outright, *(target for _, target, _ in words)}
    if any(entry is not None and len(rivals) > 1 for _, _, entry, rivals in got.values()):
        return None
    return _text(got, players - named)


def _lay_words(got: dict[str, Got], depth: int, words: list[tuple[str, str, str]]) -> None:
    """A layer's words: patches first, each sparing what other entries set."""
    for entry, target, _ in words:
        if target == "echo.patch":
            for stored in STORED:
                if stored in got and got[stored][1] < depth and got[stored][2] in (None, entry):
                    del got[stored]
    for entry, target, value in words:
        rivals = frozenset(v for _, t, v in words if t == target)
        got[target] = (value, depth, entry, rivals)


def _text(got: dict[str, Got], players: set[str]) -> dict[str, str]:
    home = dict(HOME)
    values = {target: home[target] if value == "home" else value for target, (value, *_) in got.items()}
    patch = values["echo.patch"]
    stored = {"echo.mix": {"cliff": "as cliff: 35 %"}.get(patch, f"as {patch}"), "echo.time": f"as {patch}"}
    kept = {target: value for target, value in values.items() if value != "as stored"}
    return stored | kept | dict.fromkeys(players, "held")
