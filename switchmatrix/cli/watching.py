"""The show's files watched while it is rehearsed, and read again when they change."""

from __future__ import annotations

import asyncio
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from switchmatrix.live.stepping.inputs import Input, Reloaded, ReloadRefused
from switchmatrix.live.stepping.prepared import prepare
from switchmatrix.pipeline import judge

LOOK_S = 0.5
"""Between two looks; a change is read once two looks have seen the same."""

SWITCH_S = 0.0005
"""How soon the screen's thread gets its turn while the files are read."""

Seen = tuple[tuple[str, int, int], ...]


class Watching:
    """Looks at the files of a show, for what was prepared of it."""

    def __init__(self, show: Path, leg: str, rigs: tuple[str, ...], extra_us: int) -> None:
        self._show, self._leg, self._rigs, self._extra = show, leg, rigs, extra_us
        self._taken = self._seen = seen(show)

    async def changes(self) -> Input | str | None:
        """After a while: the show read again, where its files have changed; a sentence where it cannot be."""
        await asyncio.sleep(LOOK_S)
        now = await asyncio.to_thread(seen, self._show)
        steady, self._seen = now == self._seen, now
        if now == self._taken or not steady:
            return None
        self._taken = now
        with _quick_turns():
            return await asyncio.to_thread(self._read)

    def _read(self) -> Input | str:
        judged = judge(self._show)
        if not judged.sound:
            return ReloadRefused(tuple(judged.found))
        legs = {(run.leg.name, run.rig.id) for run in judged.worked_out.runs}
        if self._leg not in {leg for leg, _ in legs}:
            return f"the show has no leg {self._leg} any more: the running show goes on"
        lost = [rig for rig in self._rigs if (self._leg, rig) not in legs]
        if lost:
            return f"the leg {self._leg} has no {' and no '.join(lost)} any more: the running show goes on"
        return Reloaded(prepare(judged.worked_out, self._leg, self._rigs, self._extra))


def seen(show: Path) -> Seen:
    """The show's files with when they were written and how long they are."""
    out: list[tuple[str, int, int]] = []
    for folder in (show, show / "rigs", show / "definitions"):
        for path in sorted(folder.glob("*.yaml")) if folder.is_dir() else ():
            try:
                found = path.stat()
            except OSError:
                continue
            out.append((str(path), found.st_mtime_ns, found.st_size))
    return tuple(out)


@contextmanager
def _quick_turns() -> Iterator[None]:
    before = sys.getswitchinterval()
    sys.setswitchinterval(SWITCH_S)
    try:
        yield
    finally:
        sys.setswitchinterval(before)
