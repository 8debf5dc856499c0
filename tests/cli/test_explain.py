"""`switchmatrix explain`: the page of a finding."""

from __future__ import annotations

import pytest

from switchmatrix.diagnostics.diagnostic import Name, Severity
from switchmatrix.diagnostics.names import NAMES
from tests.cli.kit import run

SQUEAK = Name(
    name="floor-squeaks",
    severity=Severity.WARNING,
    page="\nThe floor squeaks where the player stands.\n",
    wrong={"lantern.yaml": "song: Lantern\nscenes:\n  verse: {gate: tight}\n", "show.yaml": "show: S\n"},
    right={"lantern.yaml": "song: Lantern\n"},
)


def test_a_page_says_what_is_wrong_with_a_wrong_and_a_right_example(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("switchmatrix.cli.explain.NAMES", (SQUEAK,))

    ran = run("explain", "floor-squeaks")

    assert (ran.code, ran.err) == (0, "")
    assert ran.out == (
        """\
floor-squeaks (warning)

The floor squeaks where the player stands.

Wrong:

    # lantern.yaml
    song: Lantern
    scenes:
      verse: {gate: tight}

    # show.yaml
    show: S

Right:

    # lantern.yaml
    song: Lantern
"""
    )


@pytest.mark.parametrize("name", NAMES, ids=lambda name: name.name)
def test_every_finding_has_a_page(name: Name) -> None:
    ran = run("explain", name.name)

    assert (ran.code, ran.out.splitlines()[0]) == (0, f"{name.name} ({name.severity})")


def test_an_unknown_finding_is_wrong_usage_with_the_nearest_known() -> None:
    ran = run("explain", "key-twise")

    assert (ran.code, ran.out) == (2, "")
    assert ran.err.splitlines()[-1] == "Error: no finding is called key-twise: did you mean `key-twice`?"


def test_a_finding_like_no_other_is_answered_with_what_there_is(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("switchmatrix.cli.explain.NAMES", (SQUEAK,))

    ran = run("explain", "rain")

    assert (ran.code, ran.out) == (2, "")
    assert ran.err.splitlines()[-1] == (
        "Error: no finding is called rain: known here as findings: `floor-squeaks`"
    )


def test_without_a_name_each_finding_is_listed_with_what_it_is_about(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    drip = Name(
        name="drip",
        severity=Severity.ERROR,
        page="Water drips on a pedal board that stands under the pit rail, and nobody has put\n"
        "a bucket there yet: put one. It would spoil the show.\n",
        wrong={},
        right={},
    )
    monkeypatch.setattr("switchmatrix.cli.explain.NAMES", (SQUEAK, drip))

    ran = run("explain")

    assert (ran.code, ran.err) == (0, "")
    assert ran.out == (
        """\
floor-squeaks  warning  The floor squeaks where the player stands
drip           error    Water drips on a pedal board that stands under the pit rail, and nobody has
                        put a bucket there yet
"""
    )


def test_without_a_name_every_finding_is_there() -> None:
    named = [line.split()[:2] for line in run("explain").out.splitlines() if not line.startswith(" ")]
    assert named == [[name.name, str(name.severity)] for name in NAMES]
