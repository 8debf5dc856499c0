"""A server or a port that goes away: told soon and in plain words, and nothing hangs."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time

import pytest

from switchmatrix.live.machine import Machine
from switchmatrix.live.probe import ports
from switchmatrix.live.receiver import Receiver
from switchmatrix.live.records import MS, Due, Lost, NoPorts, Refused, Watch
from switchmatrix.live.sender import Sender, open_sender
from tests.live.kit import (
    EASY,
    ROOT,
    Server,
    changes,
    full_name,
    heard,
    in_time,
    machine,
    pair,
    server,
    until,
    virtual,
)

ALERT = Watch(silence_ns=5_000 * MS, open_ns=10_000 * MS)
"""The usual beats; only a process that hangs for seconds is taken to be gone."""

BEATLESS = Watch(beat_ns=60_000 * MS, silence_ns=300 * MS, open_ns=10_000 * MS)
"""No beat is ever missed, so that only a hanging process shows."""


def lose(one: Machine, port: Sender | Receiver, seconds: float = 10) -> Lost | None:
    """How a port was lost, within that time."""
    end = time.monotonic() + seconds
    while port.lost is None and time.monotonic() < end:
        one.wait(one.now_ns() + 5 * MS)
    return port.lost


@pytest.mark.parametrize("how", [signal.SIGKILL, signal.SIGSTOP])
def test_server_that_goes_in_mid_stream_is_told_within_a_second(doomed: Server, how: signal.Signals) -> None:
    with machine(ALERT) as one:
        sender, _ = pair(one, "main")
        sender.hand(in_time(one, 50, 0.32, changes(5000)))
        one.wait(one.now_ns() + 200 * MS)
        doomed.signal(how)
        lost = lose(one, sender, 1)
    assert lost is not None
    assert lost.reason == "the MIDI server no longer answers"


def test_what_came_in_before_a_loss_lies_between_certain_and_unknown(doomed: Server) -> None:
    with machine(ALERT) as one:
        sender, receiver = pair(one, "main")
        sender.hand(in_time(one, 50, 0.32, changes(5000)))
        came = heard(one, receiver, 600)
        doomed.signal(signal.SIGKILL)
        lost = lose(one, sender)
        came += heard(one, receiver, 5000)
    assert lost is not None
    assert 0 < lost.certain <= len(came) <= lost.unknown < 5000
    assert [message.data for message in came] == changes(len(came))


def test_nothing_is_sent_after_a_loss(doomed: Server) -> None:
    with machine(ALERT) as one:
        sender, _ = pair(one, "main")
        doomed.signal(signal.SIGKILL)
        lose(one, sender)
        refused = sender.hand([Due(0, changes(1)[0])])
        assert refused == Refused(sender.name, "the MIDI server no longer answers")


def test_input_tells_that_the_server_is_gone(doomed: Server) -> None:
    with machine(ALERT) as one:
        receiver = virtual(one, "main")
        doomed.signal(signal.SIGKILL)
        assert lose(one, receiver) == Lost("main", "the MIDI server no longer answers", 0, 0)


def hanging(one: Machine, server: Server) -> Sender:
    """An output whose process hangs in a send, its server dead and no beat missed."""
    virtual(one, "main")
    sender = open_sender(full_name(one, "main"), "jack", watch=BEATLESS)
    assert isinstance(sender, Sender)
    server.signal(signal.SIGKILL)
    sender.hand(in_time(one, 0, 0, changes(9000)))
    return sender


def test_process_that_hangs_in_a_send_is_killed_and_told(doomed: Server) -> None:
    with machine(ALERT) as one:
        sender = hanging(one, doomed)
        end = time.monotonic() + 10
        while sender.lost is None and time.monotonic() < end:
            sender.pump()
        sender.close()
    assert sender.lost == Lost(sender.name, "its process no longer answers", 0, 9000)


def test_stop_of_a_port_whose_process_hangs_says_that_it_is_lost(doomed: Server) -> None:
    with machine(ALERT) as one:
        sender = hanging(one, doomed)
        time.sleep(0.1)
        stopped = sender.stop()
        sender.close()
    assert stopped == Lost(sender.name, "its process no longer answers", 0, 9000)


def test_process_that_ends_is_told(doomed: Server) -> None:
    with machine(ALERT) as one:
        sender, _ = pair(one, "main")
        os.kill(sender.process_id, signal.SIGKILL)
        lost = lose(one, sender)
        doomed.signal(signal.SIGKILL)
    assert lost == Lost(sender.name, "its process ended", 0, 0)


def test_port_that_goes_while_the_server_stays_is_told(jack: Machine) -> None:
    sender, receiver = pair(jack, "main")
    receiver.close()
    assert lose(jack, sender) == Lost(sender.name, "the port is no longer there", 0, 0)


def test_server_that_is_not_there_is_said_when_listing(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("JACK_DEFAULT_SERVER", "nowhere")
    assert ports("jack") == NoPorts("JACK does not answer")


def test_server_that_is_not_there_is_said_when_opening(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("JACK_DEFAULT_SERVER", "nowhere")
    assert Machine("jack", EASY).open_output("a:b") == Refused("a:b", "JACK does not answer")


def test_server_that_is_stopped_is_said_when_listing(doomed: Server) -> None:
    doomed.signal(signal.SIGSTOP)
    assert ports("jack", 1_000 * MS) == NoPorts("the MIDI server is there but does not answer")


def test_server_that_is_stopped_is_said_when_opening(doomed: Server) -> None:
    doomed.signal(signal.SIGSTOP)
    one = Machine("jack", Watch(open_ns=1_000 * MS))
    assert one.open_input("a:b") == Refused("a:b", "the MIDI server is there but does not answer")


def test_port_is_free_again_after_a_loss(tmp_path: object, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_RUNTIME_DIR", str(tmp_path))
    with server() as first, machine(ALERT) as one:
        sender, _ = pair(one, "main")
        first.signal(signal.SIGKILL)
        lose(one, sender)
        sender.close()
        refused = one.open_output(sender.name)
    assert refused == Refused(sender.name, "JACK does not answer")


RUN = """
import sys
from switchmatrix.live.interrupt import stop_asked
from switchmatrix.live.machine import Machine
from switchmatrix.live.records import Due
from tests.live.kit import EASY, changes

with stop_asked() as asked:
    machine = Machine("jack", EASY)
    sender = machine.open_output(sys.argv[1])
    start = machine.now_ns() + 10_000_000
    sender.hand([Due(start + i * 1_000_000, data) for i, data in enumerate(changes(9000))])
    print(sender.process_id, flush=True)
    while not asked.times and sender.lost is None:
        machine.wait(machine.now_ns() + 20_000_000)
    stopped = sender.stop()
    machine.close()
    print(stopped.sent, len(stopped.dropped), flush=True)
"""


def start_run(name: str) -> subprocess.Popen[str]:
    """A run of its own, in a process group as a terminal makes it, that sends for nine seconds."""
    return subprocess.Popen(
        [sys.executable, "-c", RUN, name],
        cwd=ROOT,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        stdout=subprocess.PIPE,
        text=True,
        process_group=0,
    )


def test_ctrl_c_stops_at_a_message_boundary_and_says_what_was_sent(jack: Machine) -> None:
    receiver = virtual(jack, "main")
    with start_run(full_name(jack, "main")) as run:
        came = heard(jack, receiver, 100)
        os.killpg(run.pid, signal.SIGINT)
        _, said = run.communicate(timeout=30)[0].splitlines()
    sent, dropped = map(int, said.split())
    came += heard(jack, receiver, sent - len(came))
    came += heard(jack, receiver, 1, seconds=0.2)
    assert (sent + dropped, [message.data for message in came]) == (9000, changes(sent))


def test_killed_run_takes_its_port_processes_with_it(jack: Machine) -> None:
    receiver = virtual(jack, "main")
    with start_run(full_name(jack, "main")) as run:
        heard(jack, receiver, 100)
        run.kill()
        port_process = int(run.communicate(timeout=30)[0].split()[0])
    assert until(lambda: not running(port_process), 10)


def running(process: int) -> bool:
    """Whether a process runs; one that only waits to be reaped does not."""
    status = subprocess.run(["ps", "-o", "stat=", "-p", str(process)], capture_output=True, text=True)
    return status.stdout.strip()[:1] not in ("", "Z")


def test_second_run_is_refused_while_the_first_sends(jack: Machine) -> None:
    receiver = virtual(jack, "main")
    name = full_name(jack, "main")
    with start_run(name) as run:
        heard(jack, receiver, 10)
        refused = jack.open_output(name)
        run.kill()
    assert refused == Refused(name, f"another run of this tool is sending on it (process {run.pid})")


def test_output_of_a_killed_run_may_be_opened(jack: Machine) -> None:
    receiver = virtual(jack, "main")
    name = full_name(jack, "main")
    with start_run(name) as run:
        heard(jack, receiver, 10)
        run.kill()
    assert until(lambda: isinstance(jack.open_output(name), Sender), 10)
