"""The key `ask-after-fault` of a show: whether a person is asked before anything is sent after a fault."""

from __future__ import annotations

import pytest

from tests.support import findings, judged

SHOW = "show: Tidewrack\n{}rigs: [a-rig]\nlegs: {{tour: {{rigs: [a-rig], setlist: [lantern]}}}}\n"


@pytest.mark.parametrize(
    ("said", "asks"),
    [("", True), ("ask-after-fault: yes\n", True), ("ask-after-fault: no\n", False)],
)
def test_a_show_asks_unless_it_says_no(said: str, asks: bool) -> None:
    show = judged({"show.yaml": SHOW.format(said)})
    assert (findings(show), show.worked_out.show.asks_after_fault) == ([], asks)


@pytest.mark.parametrize(
    ("said", "wrong"),
    [
        (" maybe", "2:18: error wrong-shape: `maybe` is not `yes` or `no`"),
        (" off", "2:18: error wrong-shape: `off` is not `yes` or `no`"),
        (" [no]", "2:18: error wrong-shape: a list is not `yes` or `no`"),
        ("", "2:1: error value-missing: `ask-after-fault` has no value"),
    ],
)
def test_what_is_neither_yes_nor_no_is_an_error_and_no_opting_out(said: str, wrong: str) -> None:
    show = judged({"show.yaml": SHOW.format(f"ask-after-fault:{said}\n")})
    assert findings(show) == [f"show.yaml:{wrong}"]
    assert show.model.show is not None
    assert show.model.show.asks_after_fault
