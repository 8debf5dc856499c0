"""Generated shows: two or three devices, three entries of two words, two to four scenes."""

from __future__ import annotations

from dataclasses import dataclass, replace

from hypothesis import strategies as st

from switchmatrix.pipeline import Judged
from tests.states.kit import DEFINITIONS, as_text
from tests.support import judged, song

Block = tuple[tuple[str, str], ...]
"""Lines in the order that they are written, each name once."""

DEVICES = """\
rig: A rig
ports: {rack: {out: rack, speed: din}}
devices:
  gate-1: {port: rack, channel: 2, definition: plain-gate}
  echo:
    port: rack
    channel: 3
    definition: two-tap-echo
    patches: {slap: 4, cliff: {at: 17, stores: {mix: 35 %}}}
  wah: {port: rack, channel: 4, definition: treadle-wah}
"""

INSTRUMENT: Block = (("gate-1.release", "300 ms"),)

PLAIN = {
    "gate-1.threshold": ("-60 dB", "-50 dB", "-40 dB"),
    "gate-1.release": ("40 ms", "90 ms"),
    "echo.engage": ("on", "off"),
    "echo.feed": ("10 %", "50 %"),
    "echo.mix": ("20 %", "60 %"),
    "echo.time": ("200 ms", "700 ms"),
    "wah.sweep": ("10 %", "50 %"),
}
"""Controls with values that any scene may give them."""

LINES = {
    **PLAIN,
    "echo.feed": ("10 %", "50 %", "home"),
    "echo.mix": ("20 %", "60 %", "as stored"),
    "echo.patch": ("slap", "cliff", "home"),
    "echo": ("on", "off", "slap", "cliff"),
    "gate": ("one", "two"),
    "space": ("one", "two"),
    "solo": ("one", "two"),
}
"""Everything that a block may say."""

ENTRIES = {
    "gate": ("gate-1.threshold", "gate-1.release"),
    "space": ("echo.patch", "echo.engage", "echo.mix"),
    "solo": ("echo.feed", "wah.sweep", "gate-1.release"),
}
"""Each entry with the controls that its words may set."""

HOME: Block = (
    ("gate-1.threshold", "-70 dB"),
    ("gate-1.release", "250 ms"),
    ("echo.engage", "off"),
    ("echo.patch", "slap"),
    ("echo.feed", "0 %"),
    ("wah.engage", "off"),
    ("wah.sweep", "0 %"),
)


def flow(lines: Block) -> str:
    """The lines as one YAML mapping."""
    return "{" + ", ".join(f"{name}: {value}" for name, value in lines) + "}"


@dataclass(frozen=True)
class MadeRig:
    """A rig's words, `words[entry][word]`, what the player holds, and its home."""

    words: dict[str, dict[str, Block]]
    hands: tuple[str, ...]
    home: Block

    def vocabulary(self) -> str:
        """The entries, a line each."""
        return "".join(
            f"  {entry}: {flow(tuple((word, flow(lines)) for word, lines in words.items()))}\n"
            for entry, words in self.words.items()
        )

    def text(self, devices: str = DEVICES, more: str = "") -> str:
        """The rig's file; `more` goes on with the vocabulary."""
        instruments = f"instruments: {{baritone: {{tuning: B standard, sets: {flow(INSTRUMENT)}}}}}\n"
        rest = f"hands: [{', '.join(self.hands)}]\nhome: {flow(self.home)}\n"
        return f"{devices}{instruments}vocabulary:\n{self.vocabulary()}{more}{rest}"


@dataclass(frozen=True)
class Scene:
    """A scene as a person writes it."""

    name: str
    likes: tuple[str, ...]
    lines: Block

    def text(self) -> str:
        """The scene's line in the song's file."""
        likes = (("like", f"[{', '.join(self.likes)}]"),) if self.likes else ()
        return f"  {self.name}: {flow((*likes, *self.lines))}\n"


@dataclass(frozen=True)
class Made:
    """A generated show: the rig, the song, and a leg's changes to its scenes."""

    rig: MadeRig
    base: Block
    scenes: tuple[Scene, ...]
    changes: tuple[tuple[str, Block], ...] = ()
    dropped: str | None = None

    def judged(self, rigs: dict[str, str] | None = None) -> Judged:
        """The show, judged; on other rigs than its own, id to text, where they are given."""
        texts = rigs or {"a-rig": self.rig.text()}
        drops = ((self.dropped, (("drop", "yes"),)),) if self.dropped is not None else ()
        changes = ", ".join(f"{name}: {flow(lines)}" for name, lines in (*self.changes, *drops))
        ids = f"[{', '.join(texts)}]"
        leg = f"{{rigs: {ids}, setlist: [lantern], changes: {{lantern: {{scenes: {{{changes}}}}}}}}}"
        base, scenes = flow(self.base), "".join(scene.text() for scene in self.scenes)
        files = {
            "show.yaml": f"show: Tidewrack\nrigs: {ids}\nlegs:\n  tour: {leg}\n",
            "lantern.yaml": f"song: Lantern\ninstrument: baritone\nbase: {base}\nscenes:\n{scenes}",
        }
        on = {f"rigs/{id}.yaml": text for id, text in texts.items()}
        return judged({**DEFINITIONS, **files, **on}, base=None)

    def with_line(self, scene: str, line: tuple[str, str]) -> Made:
        """The show with this line in a scene, instead of what it says of the same name."""
        scenes = (
            replace(s, lines=(*(said for said in s.lines if said[0] != line[0]), line))
            if s.name == scene
            else s
            for s in self.scenes
        )
        return replace(self, scenes=tuple(scenes))

    def below(self, scene: str) -> set[str]:
        """The scene and all that are like it, however far down."""
        found = {scene}
        for s in self.scenes:
            found |= {s.name} if found & set(s.likes) else set()
        return found


def states(show: Judged, rig: str | None = None) -> dict[str, dict[str, str]]:
    """Each scene's state as text; AssertionError where the show has an error."""
    _, of_song = song(show, "lantern", rig=rig)
    return {s.label: as_text(s.state) for s in of_song.states}


@st.composite
def blocks(draw: st.DrawFn, pool: dict[str, tuple[str, ...]], least: int = 0, most: int = 4) -> Block:
    """Some lines of the pool, in any order."""
    names = draw(st.permutations(list(pool)))[: draw(st.integers(least, min(most, len(pool))))]
    return tuple((name, draw(st.sampled_from(pool[name]))) for name in names)


@st.composite
def rigs(draw: st.DrawFn) -> MadeRig:
    """A rig whose home gives every control, and may say a word too."""
    words = {}
    for entry, controls in ENTRIES.items():
        pool = {name: tuple(v for v in LINES[name] if v != "home") for name in controls}
        words[entry] = {word: draw(blocks(pool, least=1)) for word in ("one", "two")}
    hands = draw(st.sampled_from([(), ("wah.sweep",), ("wah", "echo.feed")]))
    said = draw(blocks({"gate": LINES["gate"], "space": LINES["space"]}, most=1))
    return MadeRig(words, hands, (*HOME, *said))


@st.composite
def shows(draw: st.DrawFn) -> Made:
    """A rig and a song of two to four scenes, each like some of those before it."""
    names = [f"s{n}" for n in range(draw(st.integers(2, 4)))]
    scenes = []
    for n, name in enumerate(names):
        likes = draw(st.permutations(names[:n]))[: draw(st.integers(0, 2))]
        scenes.append(Scene(name, tuple(likes), draw(blocks(LINES))))
    changed = draw(st.permutations(names))[: draw(st.integers(0, 1))]
    changes = tuple((name, draw(blocks(LINES, least=1, most=2))) for name in changed)
    return Made(draw(rigs()), draw(blocks(LINES, most=3)), tuple(scenes), changes)


one_line = st.sampled_from([(name, value) for name, values in PLAIN.items() for value in values])
