"""What holds for every show, however broken: places, renderings, bytes."""

from __future__ import annotations

import json
import tempfile
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path

from switchmatrix.compile.plan import LegPlan
from switchmatrix.diagnostics import as_json, lines, long
from switchmatrix.pipeline import Judged
from switchmatrix.source import SourceFile, Span, whole_file


@contextmanager
def on_disk(files: Mapping[str, bytes]) -> Iterator[Path]:
    """A folder that holds the files and nothing else; `show` in it is the show."""
    with tempfile.TemporaryDirectory() as name:
        show = Path(name) / "show"
        show.mkdir()
        for path, data in files.items():
            place = show / path
            place.parent.mkdir(parents=True, exist_ok=True)
            place.write_bytes(data)
        yield show


def misplaced(show: Judged, files: Mapping[str, bytes]) -> list[Span]:
    """Places of findings that lie outside their file, or end before they begin.

    A finding about a file as a whole may name one that is not there.
    """
    widths = {path: _widths(path, data) for path, data in files.items()}
    spans = [span for d in show.found for span in (d.span, *(related.span for related in d.related))]
    return [
        span
        for span in spans
        if span != whole_file(span.path) and not _inside(span, widths.get(span.path, []))
    ]


def _widths(path: str, data: bytes) -> list[int]:
    """The length of each line."""
    return [len(row) for row in SourceFile(path, data.decode("utf-8-sig", errors="replace")).lines()]


def _inside(span: Span, widths: list[int]) -> bool:
    """Whether the place lies in the file, or in the one column after a line, where something is missing."""
    if not 1 <= span.line <= span.end_line <= len(widths):
        return False
    begins = 1 <= span.column <= widths[span.line - 1] + 1
    ends = 1 <= span.end_column <= widths[span.end_line - 1] + 2
    return begins and ends and (span.line, span.column) <= (span.end_line, span.end_column)


def counted_in_each_form(show: Judged) -> list[int]:
    """How many findings the three forms say: lines, headings, rows."""
    said = long.render(show.found, show.files.texts)
    headings = [row for row in said.split("\n") if row.startswith(("error ", "warning ", "hint "))]
    rows: list[object] = json.loads(as_json.render(show.found))
    return [lines.render(show.found).count("\n"), len(headings), len(rows)]


def messages(plans: tuple[LegPlan, ...]) -> list[bytes]:
    """Every message of a plan."""
    songs = [song for plan in plans for song in plan.songs]
    parts = [part.messages for song in songs for part in song.visits]
    parts += [part.messages for song in songs for part in song.scenes]
    return [timed.step.data for part in parts for timed in part]


def ill_formed(data: bytes) -> bool:
    """Whether it is no status byte with the data bytes that go with it.

    MIDI 1.0 Detailed Specification 4.2.1, Table I (p. T-1): three bytes of control change, two of program
    change; data bytes are under 128.
    """
    length = {0xB0: 3, 0xC0: 2}.get(data[0] & 0xF0)
    return len(data) != length or any(byte > 127 for byte in data[1:])


def tree(folder: Path) -> dict[str, bytes]:
    """Every file below a folder, by path; nothing where there is no folder."""
    return {p.relative_to(folder).as_posix(): p.read_bytes() for p in folder.rglob("*") if p.is_file()}
