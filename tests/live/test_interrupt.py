"""Ctrl-C that is counted."""

from __future__ import annotations

import os
import signal

import pytest

from switchmatrix.live.interrupt import stop_asked, torn_out


@pytest.mark.parametrize("number", [signal.SIGINT, signal.SIGTERM])
def test_wish_to_stop_is_counted(number: signal.Signals) -> None:
    with stop_asked() as asked:
        os.kill(os.getpid(), number)
        os.kill(os.getpid(), number)
    assert asked.times == 2


def test_ctrl_c_raises_again_afterwards() -> None:
    with stop_asked():
        pass
    with pytest.raises(KeyboardInterrupt):
        signal.raise_signal(signal.SIGINT)


@pytest.mark.parametrize("number", [signal.SIGINT, signal.SIGTERM])
def test_question_is_ended_by_a_wish_to_stop_which_is_counted_again_afterwards(
    number: signal.Signals,
) -> None:
    with stop_asked() as asked:
        with pytest.raises(KeyboardInterrupt), torn_out():
            signal.raise_signal(number)
        signal.raise_signal(number)
    assert asked.times == 1
