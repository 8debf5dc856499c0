"""What the tests of live ports share: JACK servers of their own, raw clients, and waiting."""

from __future__ import annotations

import fcntl
import os
import shutil
import signal
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from switchmatrix.live.machine import Machine
from switchmatrix.live.probe import ports
from switchmatrix.live.receiver import Receiver
from switchmatrix.live.records import MS, Due, Heard, Ports, Sent, Watch
from switchmatrix.live.sender import Sender

ROOT = Path(__file__).parents[2]
EASY = Watch(beat_ns=2_000 * MS, silence_ns=3_000 * MS, open_ns=10_000 * MS)
"""A watch for tests that are not about a loss: a busy machine is none."""


class Server:
    """A JACK server of its own name, on the dummy driver; synchronous, so that no period drops its MIDI.

    Real-time where the system lets it: starved on a busy machine, jackd can hang as clients come and go.
    """

    def __init__(self, name: str) -> None:
        self.name = name
        self._spoilt = False
        self._process = subprocess.Popen(
            ["jackd", "-R", "-S", "--port-max", "128", "-n", name, "-d", "dummy", "-r", "48000", "-p", "64"],
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
        )

    def signal(self, number: signal.Signals) -> None:
        """Kill, stop or continue it."""
        self._process.send_signal(number)
        self._spoilt = True

    def end(self) -> None:
        """Be rid of it; killed outright, it would leave its shared memory behind."""
        if self._spoilt:
            self._process.kill()
        self._process.terminate()
        try:
            self._process.wait(5)
        except subprocess.TimeoutExpired:
            self._process.kill()
            self._process.wait()


@contextmanager
def free_name() -> Iterator[str]:
    """A server name that no other test run uses now.

    JACK knows eight servers a user and counts dead ones, until one of the same name starts: so names repeat.
    """
    folder = Path(tempfile.gettempdir()) / f"jack-names-{os.getuid()}"
    folder.mkdir(mode=0o700, exist_ok=True)
    for name in ("one", "two", "three", "four", "five", "six"):
        with (folder / name).open("w") as file:
            try:
                fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
            except BlockingIOError:
                continue
            yield f"test-{name}"
            return
    pytest.fail("six test runs hold all names of JACK servers")


@contextmanager
def server() -> Iterator[Server]:
    """A JACK server that answers, the default one meanwhile; no JACK is a failure in CI, else a skip."""
    if shutil.which("jackd") is None:
        reason = "jackd is not installed (Debian: apt install --no-install-recommends jackd2)"
        if os.environ.get("CI"):
            pytest.fail(reason)
        pytest.skip(reason)
    with free_name() as name, pytest.MonkeyPatch.context() as patch:
        patch.setenv("JACK_DEFAULT_SERVER", name)
        running = Server(name)
        try:
            assert until(lambda: isinstance(ports("jack"), Ports), 20), "jackd does not answer"
            yield running
        finally:
            running.end()


def until(holds: Callable[[], bool], seconds: float) -> bool:
    """Whether something comes to hold within that time."""
    end = time.monotonic() + seconds
    while not holds():
        if time.monotonic() > end:
            return False
        time.sleep(0.005)
    return True


def virtual(machine: Machine, name: str) -> Receiver:
    """A virtual input of that name, open."""
    port = machine.open_input(name, virtual=True)
    assert isinstance(port, Receiver)
    return port


def output_to(machine: Machine, name: str, share: bool = False) -> Sender:
    """An output connected to the virtual input of that name."""
    port = machine.open_output(full_name(machine, name), share=share)
    assert isinstance(port, Sender), port
    return port


def full_name(machine: Machine, name: str) -> str:
    """What the machine calls the virtual input `name`."""
    there = machine.ports()
    assert isinstance(there, Ports)
    return next(one for one in there.outputs if one.endswith(f":{name}"))


def pair(machine: Machine, name: str) -> tuple[Sender, Receiver]:
    """An output, and the virtual input that it is connected to."""
    receiver = virtual(machine, name)
    return output_to(machine, name), receiver


def in_time(machine: Machine, ms: float, step_ms: float, datas: list[bytes]) -> list[Due]:
    """Messages from `ms` milliseconds from now on, so far apart."""
    start = machine.now_ns() + int(ms * MS)
    return [Due(start + int(i * step_ms * MS), data) for i, data in enumerate(datas)]


def changes(count: int) -> list[bytes]:
    """So many control changes, each different from its neighbours."""
    return [bytes([0xB0 + i // 14400 % 16, i % 120, i // 120 % 120]) for i in range(count)]


def sent_all(machine: Machine, sender: Sender, seconds: float = 30) -> list[Sent]:
    """What a sender sends until nothing waits or it is lost."""
    sent: list[Sent] = []
    end = time.monotonic() + seconds
    while time.monotonic() < end and sender.lost is None and sender.waiting():
        machine.wait(machine.now_ns() + 20 * MS)
        sent += sender.news()
    return sent + list(sender.news())


def heard(machine: Machine, receiver: Receiver, count: int, seconds: float = 30) -> list[Heard]:
    """What comes in until there are so many, or time is up."""
    came: list[Heard] = []
    end = time.monotonic() + seconds
    while time.monotonic() < end and receiver.lost is None and len(came) < count:
        machine.wait(machine.now_ns() + 20 * MS)
        came += receiver.news()
    return came


RAW = """
import sys, time, rtmidi
out = rtmidi.MidiOut(rtmidi.API_UNIX_JACK, name="a box")
name = next(one for one in out.get_ports() if one.endswith(":" + sys.argv[1]))
out.open_port(out.get_ports().index(name))
for line in sys.stdin:
    out.send_message(bytes.fromhex(line))
    time.sleep(float(sys.argv[2]))
time.sleep(0.3)
out.close_port()
out.delete()
"""


def box_sends(name: str, datas: list[bytes], gap_s: float = 0.0) -> None:
    """Have a client that checks nothing send these bytes to the input `name`."""
    lines = "\n".join(data.hex() for data in datas)
    subprocess.run(
        [sys.executable, "-c", RAW, name, str(gap_s)], input=lines, text=True, check=True, timeout=60
    )


@contextmanager
def machine(watch: Watch = EASY) -> Iterator[Machine]:
    """The machine's JACK ports, all closed at the end."""
    one = Machine("jack", watch)
    try:
        yield one
    finally:
        one.close()
