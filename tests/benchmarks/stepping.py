"""Rehearsing measured over JACK: from a key to the first byte, and over many steps.

`python tests/benchmarks/stepping.py keys [--steps N]`, or `soak [--steps N] [--minutes M]`. It starts jackd
on the dummy driver, stands at the far end of the A rig's ports, and types on the real command in a terminal.
"""

# ruff: noqa: T201
from __future__ import annotations

import argparse
import contextlib
import fcntl
import json
import os
import pty
import random
import signal
import statistics
import struct
import subprocess
import sys
import tempfile
import termios
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

ROOT = Path(__file__).parents[2]
sys.path.insert(0, str(ROOT))

from switchmatrix.live.machine import Machine  # noqa: E402
from switchmatrix.live.records import MS, Heard, Watch  # noqa: E402
from switchmatrix.live.stand_in.faults import Faults  # noqa: E402
from switchmatrix.live.stand_in.rig import StandIn, open_stand_in  # noqa: E402
from switchmatrix.live.stepping.prepared import Prepared, prepare  # noqa: E402
from switchmatrix.live.stepping.stops import Key  # noqa: E402
from switchmatrix.pipeline import judge  # noqa: E402
from tests.live.rigs import Tapped, astray  # noqa: E402

LEG, RIG = "summer-season", "a-rig"
WATCH = Watch(beat_ns=2_000 * MS, silence_ns=3_000 * MS, open_ns=20_000 * MS)
SIZE = (24, 80)
LANDED_MS = 120
"""Nothing has come for so long: the change is over."""


@contextmanager
def jack(frames: int) -> Iterator[None]:
    """A server of the run's own."""
    os.environ["JACK_DEFAULT_SERVER"] = "stepping"
    command = ["jackd", "-R", "-S", "-n", "stepping", "-d", "dummy", "-r", "48000", "-p", str(frames)]
    server = subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    time.sleep(2)
    try:
        yield
    finally:
        server.terminate()
        try:
            server.wait(10)
        except subprocess.TimeoutExpired:
            server.kill()


class Far:
    """The far end: a stand-in of the rig, and what came on each port, stamped by the receiving processes."""

    def __init__(self, prepared: Prepared) -> None:
        self.machine = Machine("jack", WATCH)
        tapped = Tapped(self.machine)
        rig = prepared.rigs[RIG].rig
        box = open_stand_in(rig, Faults(), tapped, "jack")
        assert isinstance(box, StandIn), box
        self.box, self.prepared = box, prepared
        self.taps = {port.name: tapped.taps[port.out] for port in rig.ports}

    def first(self, seconds: float) -> int | None:
        """The moment of the first message that comes; None where none does."""
        end = time.monotonic_ns() + int(seconds * 1e9)
        while time.monotonic_ns() < end:
            self.machine.wait(time.monotonic_ns() + 5 * MS)
            came = [one.moment_ns for tap in self.taps.values() for one in peek(tap.port)]
            if came:
                return min(came)
        return None

    def settle(self) -> None:
        """Take what comes until it is quiet."""
        quiet = time.monotonic_ns() + LANDED_MS * MS
        while time.monotonic_ns() < quiet:
            self.machine.wait(quiet)
            heard = self.box.heard
            self.box.work()
            if self.box.heard != heard:
                quiet = time.monotonic_ns() + LANDED_MS * MS

    def take(self) -> dict[str, list[str]]:
        """What has come on each port since this was last asked, MIDI clock left out."""
        came = {port: [one.hex() for one in tap.kept if one != b"\xf8"] for port, tap in self.taps.items()}
        for tap in self.taps.values():
            tap.kept.clear()
        return {port: datas for port, datas in came.items() if datas}


def peek(port: object) -> list[Heard]:
    """What has come on a receiver, left there."""
    news = getattr(port, "_news", [])
    assert isinstance(news, list)
    return news


class Screen:
    """The real command in a terminal of its own; what it draws is read and thrown away."""

    def __init__(self, folder: Path) -> None:
        master, slave = pty.openpty()
        fcntl.ioctl(slave, termios.TIOCSWINSZ, struct.pack("HHHH", *SIZE, 0, 0))
        command = [sys.executable, "-m", "switchmatrix", "rehearse", str(ROOT / "songs"), "--leg", LEG]
        command += ["--rig", RIG, "--api", "jack", "--period", "1.334", "--yes", "--log", str(folder)]
        env = {**os.environ, "TERM": "xterm-256color"}
        self.process = subprocess.Popen(
            command, stdin=slave, stdout=slave, stderr=slave, env=env, start_new_session=True, cwd=ROOT
        )
        os.close(slave)
        self.master, self.drawn = master, 0
        threading.Thread(target=self._drain, daemon=True).start()

    def _drain(self) -> None:
        with contextlib.suppress(OSError):
            while got := os.read(self.master, 1 << 16):
                self.drawn += len(got)

    def press(self, key: str) -> int:
        """Type; the moment just before."""
        moment = time.monotonic_ns()
        os.write(self.master, key.encode())
        return moment

    def resident_kb(self) -> int:
        """The command's resident memory."""
        text = Path(f"/proc/{self.process.pid}/status").read_text(encoding="ascii")
        return next(int(line.split()[1]) for line in text.splitlines() if line.startswith("VmRSS"))

    def __enter__(self) -> Screen:
        return self

    def __exit__(self, *_: object) -> None:
        """Whatever happened, it does not go on without a terminal, and hold the ports."""
        if self.process.poll() is None:
            self.process.kill()

    def end(self) -> None:
        """Leave as a person does."""
        self.press("q")
        try:
            self.process.wait(20)
        except subprocess.TimeoutExpired:
            self.process.send_signal(signal.SIGKILL)
            print("it did not leave")


def walk(steps: int, stops: int) -> Iterator[str]:
    """On to the end of the setlist and back, again and again."""
    place, way = 0, 1
    for _ in range(steps):
        if not 0 <= place + way < stops:
            way = -way
        place += way
        yield "n" if way > 0 else "b"


def keys(prepared: Prepared, far: Far, screen: Screen, steps: int) -> None:
    """From a key to the first byte at the receiver, while the screen redraws."""
    took: list[float] = []
    silent = 0
    drawn = screen.drawn
    rng = random.Random(1)
    for key in walk(steps, len(prepared.stops)):
        time.sleep(rng.uniform(0.05, 0.2))
        pressed = screen.press(key)
        first = far.first(1.0)
        if first is None:
            silent += 1
        else:
            took.append((first - pressed) / MS)
        far.settle()
    drawn = screen.drawn - drawn
    took.sort()
    print(f"{len(took)} steps with messages, {silent} without; {drawn} bytes drawn meanwhile")
    print(
        f"from key to first byte: median {statistics.median(took):.2f} ms, "
        f"p99 {took[int(len(took) * 0.99)]:.2f} ms, worst {took[-1]:.2f} ms"
    )


def soak(prepared: Prepared, far: Far, screen: Screen, steps: int, minutes: float, folder: Path) -> None:
    """Many steps: memory, and whether log, receiver and state agree after each."""
    far.take()
    log = Log(folder / f"{LEG}-stand-in.jsonl")
    log.read()
    log.forget()
    began, apart, messages = time.monotonic(), 0, 0
    early_kb = 0
    for n, key in enumerate(walk(steps, len(prepared.stops)), 1):
        due = began + n * minutes * 60 / steps
        time.sleep(max(0.0, due - time.monotonic()))
        screen.press(key)
        came: dict[str, list[str]] = {}
        pressed = time.monotonic()
        # The log says where we are before it says what is sent for it; a step may send nothing.
        while (waited := time.monotonic() - pressed) < 3 and not (
            log.through and came == log.sent and (came or waited > 0.5)
        ):
            far.machine.wait(time.monotonic_ns() + 5 * MS)
            far.box.work()
            for port, datas in far.take().items():
                came.setdefault(port, []).extend(datas)
            log.read()
        at, sent = log.at, log.sent
        log.forget()
        messages += sum(map(len, came.values()))
        if at is None or sent != came or astray(far.box, prepared.rigs[RIG].states[at]):
            apart += 1
            print(f"step {n}: at {at}, log and receiver agree: {sent == came}, faults: {log.faults}")
            if log.faults or apart > 20:
                break
        if n == 1000:
            early_kb = screen.resident_kb()
        if n % 600 == 0:
            print(f"step {n}: {screen.resident_kb()} kB, {time.monotonic() - began:.0f} s", flush=True)
    late_kb = screen.resident_kb()
    lasted = time.monotonic() - began
    print(
        f"{steps} steps in {lasted / 60:.1f} minutes, {messages} messages, {apart} steps that did not agree"
    )
    print(
        f"memory: {early_kb} kB at step 1,000, {late_kb} kB at the end: {(late_kb - early_kb) / 1024:+.2f} MB"
    )


class Log:
    """The log as it grows: where we are, what was sent by port, and whether all of it is through."""

    def __init__(self, path: Path) -> None:
        self._path, self._read = path, 0
        self.faults: list[str] = []
        self.forget()

    def forget(self) -> None:
        """Another step begins."""
        self.at: Key | None = None
        self.sent: dict[str, list[str]] = {}
        self._open: set[int] = set()

    @property
    def through(self) -> bool:
        """Whether a stop was reached, with all that was sent for it through."""
        return self.at is not None and not self._open

    def read(self) -> None:
        """Take what is new; a line that is only half there waits."""
        with self._path.open("rb") as file:
            file.seek(self._read)
            data, _, _ = file.read().rpartition(b"\n")
        self._read += len(data) + 1 if data else 0
        for line in data.splitlines():
            entry = json.loads(line)
            if entry["event"] == "at":
                self.at = Key(entry["item"], entry["song"], entry["scene"], entry["nth"])
            elif entry["event"] == "send":
                self._open.add(entry["send"])
                for port, _, data_hex in entry["messages"]:
                    self.sent.setdefault(port, []).append(data_hex)
            elif entry["event"] == "sent":
                self._open.discard(entry["send"])
            elif entry["event"] == "fault":
                self.faults.append(f"{entry['port']}: {entry['why']}")


def main() -> None:
    """Measure, and print the figures."""
    parser = argparse.ArgumentParser()
    parser.add_argument("what", choices=["keys", "soak"])
    parser.add_argument("--steps", type=int)
    parser.add_argument("--minutes", type=float, default=30.0)
    parser.add_argument("-p", "--period", type=int, default=64)
    given = parser.parse_args()
    judged = judge(ROOT / "songs")
    prepared = prepare(judged.worked_out, LEG, [RIG])
    with jack(given.period), tempfile.TemporaryDirectory() as name:
        far, folder = Far(prepared), Path(name)
        with Screen(folder) as screen:
            assert far.first(60) is not None, "nothing came"
            far.settle()
            if given.what == "keys":
                keys(prepared, far, screen, given.steps or 1000)
            else:
                soak(prepared, far, screen, given.steps or 7200, given.minutes, folder)
            screen.end()
        far.machine.close()


if __name__ == "__main__":
    main()
