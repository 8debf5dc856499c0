"""Coverage-guided fuzzing of all that reads a show: the input's bytes become one file of a small show.

`python tests/benchmarks/fuzz_reader.py FOLDER [-runs=1000000 and other libFuzzer options]`, from the top of
a checkout, where `atheris` and the project are installed. FOLDER keeps the inputs that reach new code, and
the dictionary. An input that brings a traceback, or takes longer than ten seconds, ends the run and is
written down; so does a finding whose place lies outside its file.
"""

from __future__ import annotations

import re
import sys
from pathlib import Path

import atheris  # type: ignore[import-untyped]

with atheris.instrument_imports(include=["switchmatrix"]):
    from switchmatrix import pipeline
    from switchmatrix.bind.whole import bind
    from switchmatrix.diagnostics import as_json, lines, long
    from switchmatrix.diagnostics.diagnostic import Diagnostic, has_errors, merged
    from switchmatrix.diagnostics.names import NAMES
    from switchmatrix.emit.listing import listing
    from switchmatrix.emit.messages_csv import messages_csv
    from switchmatrix.emit.midi_files import song_files
    from switchmatrix.files import ShowFiles, _decoded
    from switchmatrix.source import SourceFile, Span
    from switchmatrix.states.runs import work_out
    from switchmatrix.syntax.nodes import Broken, Node

TOP = Path(__file__).parents[2]
MOST_BYTES, MOST_SECONDS = 4096, 10

SHOW = {
    "show.yaml": """\
show: Tidewrack
rigs: [a-rig, b-rig]
legs:
  tour: {rigs: [a-rig, b-rig], setlist: [lantern, {standing: silence, remark: wait}]}
  pier:
    rigs: [a-rig]
    setlist: [lantern]
    changes: {lantern: {base: {gate: loose}, scenes: {coda: {drop: yes}}}}
""",
    "rigs/a-rig.yaml": """\
rig: A rig
ports:
  rack: {out: rack, in: rack return, speed: din}
  floor: {out: floor, speed: usb}
controllers: {board: {port: floor, channel: 16, sends: {programs: yes, cc: [64, 80-85]}}}
devices:
  gate-1: {port: rack, channel: 2, definition: plain-gate}
  echo:
    port: rack
    channel: 3
    definition: two-tap-echo
    patches: {slap: 4, cliff: {at: 17, stores: {mix: 35 %, time: 480 ms}}}
  box:
    port: floor
    channel: 4
    definition: every-kind
    patches: {low: {at: 0, stores: {tone: 1}}}
    pickup: piezo
instruments: {mandola: {tuning: B standard, pickups: [piezo], sets: {box.out-a: in-2}}}
vocabulary:
  gate: {tight: {gate-1.threshold: -38 dB}, loose: {gate-1.threshold: -55 dB}}
  horn: box.fire-horn
hands: [box.swell]
home:
  gate: loose
  echo: {engage: off, patch: slap}
  box: {engage: off, patch: low, mode: tape, pitch: 0, swell: 0 dB, out-a: in-1, loops: []}
limits: {box.swell: {most: 0 dB}}
standing: {silence: {box.engage: on, instrument: mandola}, changeover: {like: silence, echo: off}}
changes: {lantern: {scenes: {verse: {echo.mix: 40 %}}}}
""",
    "rigs/b-rig.yaml": """\
rig: B rig
ports: {rack: {out: rack, speed: din}}
devices:
  gate-1: {port: rack, channel: 2, definition: plain-gate}
  multi:
    port: rack
    channel: 5
    definition: every-kind
    patches: {low: {at: 0, stores: {tone: 1}}, high: {at: 1, stores: {tone: 10}}}
absent: {echo: two-tap-echo, box: every-kind}
instruments: {mandola: {pickups: [piezo]}}
vocabulary:
  gate: {tight: {gate-1.threshold: -38 dB}, loose: {gate-1.threshold: -55 dB}}
  horn: nothing
  box: nothing
  echo.engage: multi.engage
  echo.time: multi.delay
  echo.mix: nothing
  echo.patch: {slap: {multi.patch: low}, cliff: {multi.patch: high, multi.mode: grain}}
joint: [{of: [echo.patch, box.patch], rows: [[cliff, low, {multi.patch: low}]]}]
home:
  gate: loose
  multi: {engage: off, patch: low, mode: tape, pitch: 0, swell: -inf dB, out-a: in-1, loops: [1]}
standing: {silence: {multi: off}}
""",
    "definitions/plain-gate.yaml": """\
definition: plain gate
controls:
  threshold: {kind: level, cc: 20, range: [-70 dB, -20 dB], codes: [0, 100]}
""",
    "definitions/two-tap-echo.yaml": """\
definition: two-tap echo
programs: {count: 128, first: 1, settle: 35 ms, repeat: recalls}
controls:
  engage: {kind: switch, cc: 80, main: yes}
  mix: {kind: level, cc: 21, range: [0 %, 100 %], codes: [0, 100], stored: yes, tolerance: 5 %}
  time: {kind: time, cc: 22, range: [0 ms, 2000 ms], stored: yes}
""",
    "definitions/every-kind.yaml": """\
definition: every kind
programs: {count: 2, first: 0, settle: 0.1 s, repeat: toggles engage}
controls:
  engage: {kind: switch, cc: 80, main: yes, codes: {on: 1, off: 0}}
  mode: {kind: choice, cc: 81, values: {tape: 0-63, grain: 64-127}, send: {grain: 127}}
  relay: {kind: choice, program: yes, values: {left: 5, right: 6}}
  pitch: {kind: level, cc: 82, range: [-12, 12], centre: 64, tolerance: 50 %}
  swell: {kind: level, cc: 83, range: [-60 dB, 6 dB], codes: [1, 67], bottom: 0}
  tone: {kind: level, cc: 84, points: [[0, 0], [64, 2.5], [127, 10]], stored: yes}
  delay: {kind: time, cc: 85, range: [0.5 Hz, 100 Hz], tolerance: 100 %}
  fire-horn: {kind: trigger, cc: 86, codes: {fire: 100}}
crosspoint: {out-a: {cc: 40, inputs: {in-1: 0, in-2: 1}}}
loops: {cc: [51, 52, 53], codes: {on: 127, off: 0}}
""",
    "lantern.yaml": """\
song: Lantern
remark: "hand over the mandola: dark"
instrument: mandola
tempo: [{at: bar 1, bpm: 120}, {at: bar 17, bpm: 60.5, beat: 1/4 dotted}]
meter: [{at: bar 1, meter: 4/4}, {at: bar 17, meter: 6/8}]
start: 1:00:00:00
rate: 30 drop
hands: [echo.mix]
base: {gate: loose}
scenes:
  verse: {at: [bar 1, bar 25], gate: tight, box: low}
  chorus: {at: bar 9 beat 2, like: verse, echo: cliff, echo.time: 1/8 dotted, echo.mix: leave, horn: now}
  bridge:
    at: "0:20.5"
    like: [verse]
    echo.time: 480 ms
    box: {mode: grain, delay: 2 Hz, tone: as stored, loops: [1, 3]}
  coda: {at: 1:02:00:10, like: chorus, box.pitch: -5, box.swell: 0 dB, box.out-a: in-2}
""",
}
"""A small sound show that uses every key of the four kinds of file."""

TOKENS = (
    *re.split(
        r" {2,}|\n",
        """\
bar 1  beat 2  1/8 dotted  1/4 triplet  as stored  home  leave  nothing  now  drop: yes  -inf dB  0-63
30 drop  1:00:00;02  ms  s  Hz  dB  %  semitones  cents  bpm  recalls  toggles engage  switch  choice  level
time  trigger  program: yes  stored: yes  main: yes  hazard: flame  gate-1.threshold  echo.patch  box.out-a
multi.engage  loops: [1]  &a  *a  <<:  ?  !!str  \\x00  ~  null  0x1F  99999999999  #  ---  ...  %YAML 1.1""",
    ),
    *(
        "{",
        "}",
        "[",
        "]",
        "'",
        '"',
        ": ",
        "- ",
        ", ",
        "| \n",
        "> \n",
        "\n",
        "\n  ",
        "\n    ",
        "\r\n",
        "\t",
        "\\",
    ),
    *"\u00e9\u00a0\u200b\u202e\ufeff\u0085\u2028\u0301\U0001f56f",
)
"""What a mutation may put in, besides every key and name of the small show."""


def tokens() -> list[str]:
    """The dictionary: the tokens, and every word of the small show."""
    words = {word for text in SHOW.values() for word in text.replace(",", " ").split()}
    return sorted({*TOKENS, *words})


def seeds() -> list[tuple[str, bytes]]:
    """Files to begin from: of the small show, of the shows in the checkout, of the pages on findings."""
    found = list(SHOW.items())
    for folder in (TOP / "songs", TOP / "tests" / "base_show"):
        for place in sorted(folder.rglob("*.yaml")):
            found.append((place.relative_to(folder).as_posix(), place.read_text(encoding="utf-8")))
    for name in NAMES:
        found += [*name.wrong.items(), *name.right.items()]
    return [(path, text.encode("utf-8")) for path, text in found]


def input_of(path: str, data: bytes) -> bytes:
    """The input that puts `data` in place of the small show's file of the same name, or the same kind."""
    paths = list(SHOW)
    same_kind = [p for p in paths if pipeline.kind_of(p) == pipeline.kind_of(path)]
    return bytes([paths.index(path if path in paths else same_kind[0])]) + data


def prepared(folder: Path) -> tuple[Path, Path]:
    """The corpus and the dictionary, written below `folder`."""
    corpus, words = folder / "corpus", folder / "words.dict"
    corpus.mkdir(parents=True, exist_ok=True)
    for n, (path, data) in enumerate(seeds()):
        (corpus / f"seed-{n:04d}").write_bytes(input_of(path, data))
    quoted = ("".join(f"\\x{byte:02x}" for byte in token.encode("utf-8")) for token in tokens())
    words.write_text("".join(f'"{token}"\n' for token in quoted), encoding="ascii")
    return corpus, words


def outside(span: Span, texts: dict[str, tuple[str, ...]]) -> bool:
    """Whether a place lies outside its file, or ends before it begins.

    What is missing at the end of a line is shown at the one column after it.
    """
    rows = [len(row) for row in texts.get(span.path, ())]
    start, end = (span.line, span.column), (span.end_line, span.end_column)
    if not 1 <= span.line <= span.end_line <= len(rows) or end < start:
        return True
    return not 1 <= span.column <= rows[span.line - 1] + 1 or span.end_column > rows[span.end_line - 1] + 2


class Fuzzed:
    """The small show, read once; each input takes the place of one of its files."""

    def __init__(self) -> None:
        self.paths = list(SHOW)
        self.files = {path: SourceFile(path, text) for path, text in SHOW.items()}
        self.nodes = pipeline.read_nodes(ShowFiles(self.files, frozenset(), frozenset()), [])
        self.rows = {path: file.lines() for path, file in self.files.items()}
        self.judged_broken: set[str] = set()
        for path, text in SHOW.items():
            self.one(input_of(path, text.encode("utf-8")))

    def one(self, data: bytes) -> None:
        """Judge the show with one file replaced; where it is sound, compile it."""
        if not data:
            return
        path = self.paths[data[0] % len(self.paths)]
        read = _decoded(data[1:], path)
        found: list[Diagnostic] = []
        texts = {path: read} if isinstance(read, SourceFile) else {}
        if not isinstance(read, SourceFile):
            found.append(read)
        alone = ShowFiles(texts, frozenset({path} - set(texts)), frozenset())
        nodes = {**self.nodes, **pipeline.read_nodes(alone, found)}
        if not isinstance(nodes[path], Broken) or path not in self.judged_broken:
            # What follows from a file of which nothing could be read is always the same.
            if isinstance(nodes[path], Broken):
                self.judged_broken.add(path)
            self._judge(nodes, found)
        rows = {path: SourceFile(path, data[1:].decode("utf-8-sig", errors="replace")).lines()}
        self._said(merged(found, {}), {**self.files, **texts}, {**self.rows, **rows})

    def _judge(self, nodes: dict[str, Node], found: list[Diagnostic]) -> None:
        model = bind(pipeline.roots_of(nodes, frozenset()), found)
        states = work_out(model, found) if model.show is not None else None
        if states is None:
            return
        found += pipeline.judge_pairs(states)
        found += pipeline.check(states)
        if has_errors(found):
            return
        for run in states.runs:
            plan = pipeline.plan_run(run, states.show)
            messages_csv(plan)
            for song in plan.songs:
                listing(plan, song)
                song_files(plan.rig, song, 0)
                song_files(plan.rig, song, 1)

    def _said(
        self, found: list[Diagnostic], texts: dict[str, SourceFile], rows: dict[str, tuple[str, ...]]
    ) -> None:
        for finding in found:
            for span in (finding.span, *(related.span for related in finding.related)):
                if outside(span, rows):
                    raise AssertionError(f"{finding.name} is placed outside its file: {span!r}")
        long.render(found, texts)
        as_json.render(found)
        if len(lines.render(found).split("\n")) != len(found) + 1:
            raise AssertionError("a finding takes more than one line")


def main() -> None:
    """Fuzz until the runs that the options allow are done."""
    folder, *options = sys.argv[1:]
    corpus, words = prepared(Path(folder))
    fixed = [f"-dict={words}", f"-max_len={MOST_BYTES}", f"-timeout={MOST_SECONDS}"]
    atheris.Setup([sys.argv[0], str(corpus), *fixed, *options], Fuzzed().one)
    atheris.Fuzz()


if __name__ == "__main__":
    main()
