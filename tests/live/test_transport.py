"""Real ports and the loop are the same to who plays on them."""

from __future__ import annotations

from switchmatrix.live.loop import Loop
from switchmatrix.live.machine import Machine
from switchmatrix.live.transport import Transport


def test_machine_and_loop_are_transports() -> None:
    transports: list[Transport] = [Machine("jack"), Loop()]
    assert [transport.now_ns() >= 0 for transport in transports] == [True, True]
