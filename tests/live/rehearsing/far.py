"""A rig made of software in a process of its own, which can be asked how it stands, and told to play.

It is a `stand-in` of one rig of a show on JACK. On standard input it takes a JSON list a line:

- `["astray", item, song, scene, nth]`: answers with the controls that are not where that visit wants them;
- `["play", port, [[ms, hex], ...]]`: sends from the return of a port, so many milliseconds from now on;
- `["heard"]`: answers with how many messages came.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
import time
from pathlib import Path
from typing import Any

from switchmatrix.live.machine import Machine
from switchmatrix.live.records import MS, Due
from switchmatrix.live.stand_in.faults import Faults
from switchmatrix.live.stand_in.rig import StandIn, open_stand_in
from switchmatrix.live.stepping.prepared import Prepared, prepare
from switchmatrix.live.stepping.stops import Key
from switchmatrix.live.transport import Output
from switchmatrix.pipeline import judge
from tests.live.kit import EASY, ROOT
from tests.live.rigs import astray


class FarRig:
    """The test's side of it."""

    def __init__(self, show: Path, leg: str, rig: str) -> None:
        self._process = subprocess.Popen(
            [sys.executable, "-m", "tests.live.rehearsing.far", str(show), leg, rig],
            cwd=ROOT,
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
            env={**os.environ, "PYTHONUNBUFFERED": "1"},
        )
        assert self._answer() == "open"

    def _answer(self) -> Any:
        assert self._process.stdout is not None
        return json.loads(self._process.stdout.readline())

    def ask(self, *words: object) -> Any:
        """Its answer."""
        assert self._process.stdin is not None
        self._process.stdin.write(json.dumps(words) + "\n")
        self._process.stdin.flush()
        return self._answer()

    def astray(self, key: Key) -> Any:
        """What does not stand where a visit wants it."""
        return self.ask("astray", *key)

    def play(self, port: str, messages: list[tuple[float, bytes]]) -> None:
        """Have it send from the return of a port, each message so many milliseconds from now."""
        self.ask("play", port, [(ms, data.hex()) for ms, data in messages])

    def close(self) -> None:
        """End it."""
        self._process.communicate(timeout=20)


def main(show: Path, leg: str, rig: str) -> None:
    """The other side."""
    judged = judge(show)
    prepared = prepare(judged.worked_out, leg, [rig])
    machine = Machine("jack", EASY)
    box = open_stand_in(prepared.rigs[rig].rig, Faults(), machine, "jack")
    assert isinstance(box, StandIn), box
    returns = {line.port.name: line.says for line in box._lines}
    _say("open")
    os.set_blocking(0, False)
    rest = b""
    while True:
        machine.wait(time.monotonic_ns() + 2 * MS)
        box.work()
        try:
            got = os.read(0, 1 << 20)
        except BlockingIOError:
            continue
        if not got:
            break
        *lines, rest = (rest + got).split(b"\n")
        for line in lines:
            _say(_answered(json.loads(line), box, prepared, rig, returns))
    machine.close()


def _say(answer: object) -> None:
    sys.stdout.write(json.dumps(answer) + "\n")
    sys.stdout.flush()


def _answered(
    words: list[Any], box: StandIn, show: Prepared, rig: str, returns: dict[str, Output | None]
) -> object:
    match words:
        case ["astray", item, song, scene, nth]:
            return astray(box, show.rigs[rig].states[Key(item, song, scene, nth)])
        case ["play", port, messages]:
            now = time.monotonic_ns()
            says = returns[port]
            assert says is not None
            return repr(says.hand([Due(now + int(ms * MS), bytes.fromhex(data)) for ms, data in messages]))
        case ["heard"]:
            return box.heard
    raise ValueError(words)


if __name__ == "__main__":
    main(Path(sys.argv[1]), *sys.argv[2:])
