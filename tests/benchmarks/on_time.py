"""How punctually messages leave and arrive: ours beside a bare python-rtmidi loop, in one run.

`python tests/benchmarks/on_time.py [-p FRAMES] [--sync] [--realtime]` starts jackd on the dummy driver.
"""

# ruff: noqa: T201
from __future__ import annotations

import argparse
import json
import os
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from itertools import accumulate
from pathlib import Path

ROOT = Path(__file__).parents[2]
sys.path.insert(0, str(ROOT))

from switchmatrix.live.machine import Machine  # noqa: E402
from switchmatrix.live.records import MS, Due, Ports, Watch  # noqa: E402
from switchmatrix.live.sender import Sender  # noqa: E402

PORTS = ("left", "right")
BURSTS, IN_BURST, STEP_NS, GAP_NS = 640, 8, 320_000, 20 * MS
COUNT = BURSTS * IN_BURST
Arrived = tuple[list[int], list[int], int]
WATCH = Watch(beat_ns=2_000 * MS, silence_ns=3_000 * MS)

LISTENER = """
import json, os, sys, time, rtmidi
port = rtmidi.MidiIn(rtmidi.API_UNIX_JACK, name="listener " + sys.argv[1], queue_size_limit=1 << 16)
port.ignore_types(sysex=False)
port.open_virtual_port(sys.argv[1])
print(flush=True)
heard, end = [], time.monotonic() + float(sys.argv[2])
while time.monotonic() < end:
    while (got := port.get_message()) is not None:
        heard.append((time.monotonic_ns(), got[1], bytes(got[0][:3]).hex()))
    time.sleep(0.0001)
json.dump(heard, sys.stdout)
sys.stdout.flush()
os._exit(0)
"""

BARE = """
import json, sys, time, rtmidi
outs = []
for name in ("left", "right"):
    out = rtmidi.MidiOut(rtmidi.API_UNIX_JACK, name="bare " + name)
    there = out.get_ports()
    out.open_port(next(i for i, one in enumerate(there) if one.endswith(":" + name)))
    outs.append(out)
plan = [(int(due), int(port), bytes.fromhex(data)) for due, port, data in json.load(sys.stdin)]
moments = []
for due, port, data in plan:
    ahead = due - time.monotonic_ns()
    if ahead > 0:
        time.sleep(ahead / 1e9)
    moments.append(time.monotonic_ns() - due)
    outs[port].send_message(data)
time.sleep(0.5)
json.dump(moments, sys.stdout)
"""


def plan(start: int, port: int) -> list[Due]:
    """Scene-like bursts: eight messages as a DIN wire would space them, then a pause; ports out of step."""
    length = IN_BURST * STEP_NS + GAP_NS
    return [
        Due(
            start + i // IN_BURST * length + i % IN_BURST * STEP_NS + port * 160_000,
            bytes([0xB0 + i // 14400, i % 120, i // 120 % 120]),
        )
        for i in range(COUNT)
    ]


def spread(values: list[int]) -> str:
    """Median, p99 and worst in milliseconds, and how many are early."""
    if not values:
        return "- | - | - | -"
    values = sorted(values)
    early = sum(1 for value in values if value < 0)
    picks = (values[len(values) // 2], values[len(values) * 99 // 100], values[-1])
    return " | ".join([*(f"{pick / MS:.3f}" for pick in picks), str(early)])


@contextmanager
def jackd(period: int, sync: bool, realtime: bool) -> Iterator[None]:
    """A JACK server of our own."""
    name = f"bench-{period}-{'s' if sync else 'a'}"
    os.environ["JACK_DEFAULT_SERVER"] = name
    os.environ["XDG_RUNTIME_DIR"] = tempfile.mkdtemp()
    modes = ["-R" if realtime else "-r", *(["-S"] if sync else [])]
    command = ["jackd", *modes, "--port-max", "128", "-n", name]
    command += ["-d", "dummy", "-r", "48000", "-p", str(period)]
    with subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL) as server:
        try:
            while not isinstance(Machine("jack").ports(), Ports):
                time.sleep(0.1)
            yield
        finally:
            server.terminate()


@contextmanager
def listeners(seconds: float) -> Iterator[list[subprocess.Popen[str]]]:
    """A listening process for each port."""
    running = []
    for name in PORTS:
        command = [sys.executable, "-c", LISTENER, name, str(seconds)]
        running.append(subprocess.Popen(command, stdout=subprocess.PIPE, text=True))
        assert running[-1].stdout is not None
        running[-1].stdout.readline()
    yield running


def arrivals(listener: subprocess.Popen[str], dues: list[Due]) -> Arrived:
    """How late each message of the plan reached the listener and was taken by it, and how many never came."""
    said = listener.communicate()[0]
    if not said:
        print(f"(a listener ended: {listener.returncode})")
        return [], [], len(dues)
    heard = json.loads(said)
    moments = {
        data: (moment, came) for (moment, _, data), came in zip(heard, in_callback(heard), strict=True)
    }
    there = [(moments[one.data.hex()], one.moment_ns) for one in dues if one.data.hex() in moments]
    taken = [moment - due for (moment, _), due in there]
    came = [moment - due for (_, moment), due in there]
    return came, taken, len(dues) - len(there)


def in_callback(heard: list[tuple[int, float, str]]) -> list[int]:
    """When each message reached the process, by its JACK thread's own clock.

    rtmidi gives the seconds since the message before, read in that thread; the poll that took a message
    soonest after it came ties them to the monotonic clock, so that they are late by no more than that.
    """
    since = [round(sum_ns) for sum_ns in accumulate(step * 1e9 for _, step, _ in heard)]
    start = min((moment - after for (moment, _, _), after in zip(heard, since, strict=True)), default=0)
    return [start + after for after in since]


def open_ports(machine: Machine) -> list[Sender]:
    """Our outputs to the listeners."""
    there = machine.ports()
    assert isinstance(there, Ports)
    senders = []
    for name in PORTS:
        port = machine.open_output(next(one for one in there.outputs if one.endswith(f":{name}")))
        assert isinstance(port, Sender), port
        senders.append(port)
    return senders


def ours(seconds: float, busy: bool, exclusive: bool) -> None:
    """Our senders; with `exclusive` the right port sends 4 kB system exclusive every 50 ms instead."""
    with listeners(seconds + 8) as listening:
        machine = Machine("jack", WATCH)
        senders = open_ports(machine)
        start = machine.now_ns() + 500 * MS
        plans = [plan(start, 0), plan(start, 1)]
        if exclusive:
            long = b"\xf0\x7d" + bytes(4093) + b"\xf7"
            plans[1] = [Due(start + i * 50 * MS, long) for i in range(int(seconds * 20))]
        for sender, dues in zip(senders, plans, strict=True):
            for at in range(0, len(dues), IN_BURST):
                assert sender.hand(dues[at : at + IN_BURST]) is None
        sent: list[list[int]] = [[], []]
        over = threading.Event()
        worker = threading.Thread(target=grind, args=(over,))
        if busy:
            worker.start()
        while any(sender.waiting() and not sender.lost for sender in senders):
            machine.wait(machine.now_ns() + 20 * MS)
            for k, sender in enumerate(senders):
                sent[k] += [one.sent_ns - one.due_ns for one in sender.news()]
        over.set()
        missed, lost = senders[0].missed, [sender.lost.text for sender in senders if sender.lost]
        machine.close()
        heard = [arrivals(one, dues) for one, dues in zip(listening, plans, strict=True)]
    name = (
        "ours, a busy program" if busy else "ours, 4 kB exclusive on the other port" if exclusive else "ours"
    )
    show(name, sent[:1] if exclusive else sent, heard[:1] if exclusive else heard)
    if missed or lost:
        print(f"(beats missed: {missed}; lost: {lost})")


def grind(over: threading.Event) -> None:
    """Keep the program's interpreter busy, as drawing a screen would."""
    while not over.is_set():
        sum(i * i for i in range(10_000))


def bare(seconds: float) -> None:
    """A loop over the same list with python-rtmidi alone: sleep until due, send."""
    with listeners(seconds + 8) as listening:
        start = time.monotonic_ns() + 500 * MS
        plans = [plan(start, 0), plan(start, 1)]
        merged = sorted(
            (one.moment_ns, port, one.data.hex()) for port, dues in enumerate(plans) for one in dues
        )
        command = [sys.executable, "-c", BARE]
        done = subprocess.run(command, input=json.dumps(merged), capture_output=True, text=True, check=True)
        heard = [arrivals(one, dues) for one, dues in zip(listening, plans, strict=True)]
    show("bare loop", [json.loads(done.stdout)], heard)


def show(name: str, sent: list[list[int]], heard: list[Arrived]) -> None:
    """Three rows: at the send call, as JACK brings it to the receiver, as the receiver's poll takes it."""
    gone = [value for values in sent for value in values]
    came = [value for values, _, _ in heard for value in values]
    taken = [value for _, values, _ in heard for value in values]
    print(f"| {name} | send call | {len(gone)} | {spread(gone)} | |")
    print(f"| {name} | receiver | {len(came)} | {spread(came)} | {sum(lost for _, _, lost in heard)} |")
    print(f"| {name} | its poll | {len(taken)} | {spread(taken)} | |", flush=True)


def main() -> None:
    """Run all four and print a table."""
    parser = argparse.ArgumentParser()
    parser.add_argument("-p", type=int, default=16, help="frames in a JACK period")
    parser.add_argument("--sync", action="store_true", help="JACK in synchronous mode")
    parser.add_argument("--realtime", action="store_true", help="JACK with real-time priority")
    chosen = parser.parse_args()
    seconds = BURSTS * (IN_BURST * STEP_NS + GAP_NS) / 1e9
    modes = (
        f"{'synchronous' if chosen.sync else 'asynchronous'}, {'' if chosen.realtime else 'not '}real-time"
    )
    print(f"JACK -p {chosen.p}, {modes}\n")
    print("| what | where | messages | median ms | p99 ms | worst ms | early | never came |")
    print("|---|---|---|---|---|---|---|---|")
    with jackd(chosen.p, chosen.sync, chosen.realtime):
        bare(seconds)
        ours(seconds, busy=False, exclusive=False)
        ours(seconds, busy=True, exclusive=False)
        ours(seconds, busy=False, exclusive=True)


if __name__ == "__main__":
    main()
