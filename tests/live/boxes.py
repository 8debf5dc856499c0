"""Boxes on a real JACK server that answer as no sound box does: raw clients that check nothing."""

from __future__ import annotations

import json
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager

from switchmatrix.live.gate import Gate
from switchmatrix.live.machine import Machine
from switchmatrix.live.records import Ports
from switchmatrix.live.rig_ports import rig_ports
from switchmatrix.live.wires import Wires, open_wires
from switchmatrix.model.rig import Rig
from tests.live.kit import until

BOX = """
import json, select, sys, time, rtmidi
hears = rtmidi.MidiIn(rtmidi.API_UNIX_JACK, name="a box in", queue_size_limit=65536)
says = rtmidi.MidiOut(rtmidi.API_UNIX_JACK, name="a box out")
hears.ignore_types(sysex=False)
hears.open_virtual_port(sys.argv[1])
says.open_virtual_port(sys.argv[2])
answers = json.loads(sys.argv[3])
end = time.monotonic() + 60
while time.monotonic() < end and not select.select([sys.stdin], [], [], 0)[0]:
    got = hears.get_message()
    if got is None:
        time.sleep(0.0005)
    elif bytes(got[0]) == bytes.fromhex("F07E7F0601F7"):
        for delay, data, count in answers:
            time.sleep(delay)
            for _ in range(count):
                says.send_message(bytes.fromhex(data))
for port in (hears, says):
    port.close_port()
    port.delete()
"""

Answer = tuple[float, str, int]
"""After so many seconds these bytes, so many times."""


@contextmanager
def answering(machine: Machine, rig: Rig, port: str, answers: list[Answer]) -> Iterator[None]:
    """A box on one port of the rig, for a minute at most."""
    wanted = rig.port(port)
    assert wanted.input is not None
    running = subprocess.Popen(
        [sys.executable, "-c", BOX, wanted.out, wanted.input, json.dumps(answers)], stdin=subprocess.PIPE
    )
    try:
        assert until(lambda: _is_there(machine, wanted.out, wanted.input), 20)
        yield
    finally:
        # Killed outright, it would hold up the server and all its clients.
        running.communicate(timeout=20)


@contextmanager
def box(machine: Machine, rig: Rig, port: str, answers: list[Answer]) -> Iterator[Wires]:
    """A box on one port of the rig, and that port open with its return."""
    with answering(machine, rig, port, answers):
        there = machine.ports()
        assert isinstance(there, Ports)
        ports = [one for one in rig_ports(rig, there) if one.port.name == port]
        wires = open_wires(machine, ports, Gate(said=True), inputs=True)
        assert isinstance(wires, Wires), wires
        yield wires


def _is_there(machine: Machine, out: str, back: str | None) -> bool:
    there = machine.ports()
    if not isinstance(there, Ports):
        return False
    ins = [name for name in there.inputs if name.endswith(f":{back}")]
    return bool(ins) and any(name.endswith(f":{out}") for name in there.outputs)
