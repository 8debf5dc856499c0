"""Commands whose JACK server is killed under them and then started anew: told, asked, and gone on with."""

from __future__ import annotations

import json
import signal
import subprocess
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from switchmatrix.live.machine import Machine
from switchmatrix.live.probe import ports
from switchmatrix.live.receiver import Receiver
from switchmatrix.live.records import Ports
from tests.cli.kit import lay
from tests.cli.test_send_faults import WITH_SILENCE
from tests.live.kit import EASY, Server, heard, machine, until, virtual
from tests.live.rigs import SONGS
from tests.live.talk import Talk, talk
from tests.live.test_jack_commands import SLOW as EIGHT_SECONDS
from tests.live.test_jack_commands import stand_in

ASKED = "been told? Send again, silence first? [y/N]: "
SLOW = {path: text.replace("settle: 8 s", "settle: 3 s") for path, text in EIGHT_SECONDS.items()}
"""An echo whose recall takes three seconds: there is time to kill a server."""

LIVE = ("--yes", "--period", "2", "--api", "jack")
UNASKED = {
    **WITH_SILENCE,
    "show.yaml": "show: Tidewrack\nask-after-fault: no\nrigs: [a-rig]\n"
    "legs: {tour: {rigs: [a-rig], setlist: [lantern]}}\n",
}


@contextmanager
def anew(server: Server) -> Iterator[Machine]:
    """A killed server started anew under its name, and the machine's ports on it."""
    server.end()  # one that nobody has reaped still holds its name
    running = Server(server.name)
    try:
        assert until(lambda: isinstance(ports("jack"), Ports), 20), "jackd does not answer"
        with machine(EASY) as one:
            yield one
    finally:
        running.end()


def hexes(one: Machine, port: Receiver, count: int) -> list[str]:
    """What comes in on a port."""
    return [came.data.hex(" ").upper() for came in heard(one, port, count)]


@contextmanager
def killed(server: Server, show: Path) -> Iterator[Talk]:
    """A `send` whose server was killed after its first message, while the echo settled."""
    with machine(EASY) as one:
        port = virtual(one, "rack")
        with talk("send", show, "lantern", "verse", *LIVE) as sending:
            assert heard(one, port, 1), sending.ended()
            server.signal(signal.SIGKILL)
            yield sending


def test_yes_while_the_server_is_dead_tells_what_is_missing_and_asks_again(
    doomed: Server, tmp_path: Path
) -> None:
    with killed(doomed, lay(tmp_path, {**WITH_SILENCE, **SLOW})) as sending:
        sending.until(ASKED)
        sending.type("y\n")
        sending.until(ASKED)
        sending.type("n\n")
        code, out = sending.ended(20)
    assert code == 1
    assert f"{ASKED}stand-in: JACK does not answer\nstand-in: nothing was sent\n" in out
    assert "Traceback" not in out


def test_end_of_input_while_the_server_is_dead_ends_it(doomed: Server, tmp_path: Path) -> None:
    with killed(doomed, lay(tmp_path, {**WITH_SILENCE, **SLOW})) as sending:
        sending.until(ASKED)
        sending.type("y\n")
        sending.until(ASKED)
        code, out = sending.ended(20)
    assert code == 1
    assert "Traceback" not in out


def test_interrupt_at_the_question_ends_it(doomed: Server, tmp_path: Path) -> None:
    with killed(doomed, lay(tmp_path, {**WITH_SILENCE, **SLOW})) as sending:
        sending.until(ASKED)
        sending.process.send_signal(signal.SIGINT)
        code, out = sending.ended(20)
    assert code == 1
    assert "Traceback" not in out


def test_once_the_server_is_back_silence_goes_first_and_then_the_whole_scene(
    doomed: Server, tmp_path: Path
) -> None:
    with killed(doomed, lay(tmp_path, {**WITH_SILENCE, **SLOW})) as sending:
        sending.until(ASKED)
        sending.type("y\n")
        sending.until(ASKED)
        with anew(doomed) as one:
            port = virtual(one, "rack")
            sending.type("y\n")
            came = hexes(one, port, 7)
            code, out = sending.ended(60)
    assert code == 0, out
    assert came[0] == "B1 14 64"
    assert sorted(came[1:4]) == ["B1 14 64", "B2 50 00", "C2 03"]
    assert sorted(came[4:]) == ["B1 14 40", "B2 50 00", "C2 03"]
    assert out.splitlines()[-1] == "stand-in: lantern verse: 3 messages sent"


def test_show_that_opted_out_goes_on_by_itself_once_the_server_is_back(
    doomed: Server, tmp_path: Path
) -> None:
    with killed(doomed, lay(tmp_path, {**UNASKED, **SLOW})) as sending:
        sending.until("waiting for it, 30 s at most; Ctrl-C ends it\n")
        with anew(doomed) as one:
            # The port is there a while after its server: that too is waited for.
            sending.until("rack: no port is `rack`; there is none at all")
            port = virtual(one, "rack")
            came = hexes(one, port, 7)
            code, out = sending.ended(60)
    assert (code, came[0], len(came)) == (0, "B1 14 64", 7), out
    assert "A change can jump in level: outputs muted" in out.partition("with nobody asked.")[2]


def test_interrupt_ends_the_wait_of_a_show_that_opted_out(doomed: Server, tmp_path: Path) -> None:
    with killed(doomed, lay(tmp_path, {**UNASKED, **SLOW})) as sending:
        sending.until("waiting for it, 30 s at most; Ctrl-C ends it\n")
        sending.process.send_signal(signal.SIGINT)
        code, out = sending.ended(20)
    assert code == 1
    assert "Traceback" not in out


GO_ON = "been told? Go on, silence first? [y/N]: "
EYE = "Does it? (y, n, or s to skip) [s]: "


def checking(out: Path, *args: str) -> tuple[str | Path, ...]:
    """A line check of the bench, which a stand-in on real ports is."""
    return ("line-check", SONGS, "--rig", "bench", *LIVE, "--out", out, *args)


def kept(out: Path) -> dict[str, str]:
    """Each device's result in the one report that is kept."""
    (path,) = out.glob("*.json")
    return {row["device"]: row["result"] for row in json.loads(path.read_text(encoding="utf-8"))["devices"]}


def lose(server: Server, box: subprocess.Popen[str]) -> None:
    """Kill the server and wait until that can no longer be missed: the stand-in on it has noticed."""
    server.signal(signal.SIGKILL)
    assert until(lambda: box.poll() is not None, 20)


def test_line_check_goes_on_with_what_is_left_once_the_server_is_back(doomed: Server, tmp_path: Path) -> None:
    some = ("--device", "acoustic", "--device", "switcher", "--device", "echo", "--device", "delay")
    with stand_in() as box, talk(*checking(tmp_path, *some)) as one:
        one.until(EYE)
        one.type("y\n")
        one.until(EYE)
        lose(doomed, box)
        one.type("y\n")
        one.until(GO_ON)
        one.type("y\n")
        one.until("JACK does not answer")
        one.until(GO_ON)
        with anew(doomed), stand_in():
            one.type("y\n")
            one.until("sending silence first")
            one.until(EYE)
            one.type("y\n")
            code, out = one.ended()
    assert code == 0, out
    assert "stand-in: devices not yet checked: 1 of 4; what was found is kept\n" in out
    assert "stand-in: passed: 4 of 4 devices respond, 10 left out\n" in out
    assert [name for name, result in kept(tmp_path).items() if result != "left out"] == [
        "switcher",
        "echo",
        "delay",
        "acoustic",
    ]
    assert "Traceback" not in out


def test_line_check_that_ends_after_a_fault_keeps_what_it_found(doomed: Server, tmp_path: Path) -> None:
    some = ("--device", "acoustic", "--device", "switcher", "--device", "echo")
    with stand_in() as box, talk(*checking(tmp_path, *some)) as one:
        one.until(EYE)
        lose(doomed, box)
        one.type("y\n")
        one.until(GO_ON)
        code, out = one.ended(20)
    found = {name: result for name, result in kept(tmp_path).items() if result != "left out"}
    assert code == 1
    assert found == {"switcher": "by eye yes", "echo": "not checked", "acoustic": "answers"}
    assert "the MIDI server no longer answers" in out
    assert "Traceback" not in out


def test_line_check_with_nobody_to_ask_ends_after_a_fault(doomed: Server, tmp_path: Path) -> None:
    with stand_in("--slow", "acoustic", "1500"), talk(*checking(tmp_path, "--no-ask")) as one:
        one.until("asking who is there on ")
        doomed.signal(signal.SIGKILL)
        code, out = one.ended(20)
    assert (code, set(kept(tmp_path).values())) == (1, {"not checked"})
    assert "stand-in: It ends here: nobody is there to be asked.\n" in out
    assert GO_ON not in out
    assert "Traceback" not in out
