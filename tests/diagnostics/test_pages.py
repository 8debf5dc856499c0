"""The manual page of every finding: its wrong example raises it alone, its right example raises nothing."""

from __future__ import annotations

import pytest

from switchmatrix.diagnostics.diagnostic import Name, Severity
from switchmatrix.diagnostics.names import NAMES
from switchmatrix.diagnostics.page import render
from tests.support import findings, judged

WIDEST = 100

every_name = pytest.mark.parametrize("name", NAMES, ids=[name.name for name in NAMES])


def parts(files: dict[str, str]) -> list[str]:
    """What a page shows of an example: each path, and each of its lines, indented by four."""
    return [
        line.rstrip()
        for path, text in files.items()
        for line in (f"    # {path}", *(f"    {written}" for written in text.split("\n")))
    ]


def in_page(name: Name) -> list[str]:
    """The lines of a name's page as it is printed."""
    return [line.rstrip() for line in render(name).split("\n")]


@every_name
def test_page_says_something(name: Name) -> None:
    assert name.page.strip() != ""


@every_name
def test_page_is_wrapped(name: Name) -> None:
    assert [line for line in name.page.split("\n") if len(line) > WIDEST] == []


@every_name
def test_wrong_example_raises_this_finding_and_no_other(name: Name) -> None:
    show = judged(name.wrong)
    assert {found.name for found in show.found} == {name.name}, "\n".join(findings(show))


@every_name
def test_right_example_raises_nothing(name: Name) -> None:
    assert findings(judged(name.right)) == []


@every_name
def test_right_example_shows_at_least_one_file(name: Name) -> None:
    assert len(name.right) > 0


@every_name
def test_page_is_printed_with_all_of_its_text(name: Name) -> None:
    assert name.page.strip() in render(name)


@every_name
def test_page_is_printed_with_every_line_of_its_wrong_example(name: Name) -> None:
    printed = in_page(name)[in_page(name).index("Wrong:") : in_page(name).index("Right:")]
    assert [line for line in parts(name.wrong) if line not in printed] == []


@every_name
def test_page_is_printed_with_every_line_of_its_right_example(name: Name) -> None:
    printed = in_page(name)[in_page(name).index("Right:") :]
    assert [line for line in parts(name.right) if line not in printed] == []


def test_page_is_printed_heading_first_then_text_then_wrong_then_right() -> None:
    name = Name(
        name="lamp-out",
        severity=Severity.WARNING,
        page="The lamp of the lighthouse is out.\nLight it.\n",
        wrong={"tower.yaml": "lamp: off\n", "rigs/a-rig.yaml": "rig: A rig\nremark: dark\n"},
        right={"tower.yaml": "lamp: on\n"},
    )
    assert render(name) == (
        "lamp-out (warning)\n"
        "\n"
        "The lamp of the lighthouse is out.\n"
        "Light it.\n"
        "\n"
        "Wrong:\n"
        "\n"
        "    # tower.yaml\n"
        "    lamp: off\n"
        "\n"
        "    # rigs/a-rig.yaml\n"
        "    rig: A rig\n"
        "    remark: dark\n"
        "\n"
        "Right:\n"
        "\n"
        "    # tower.yaml\n"
        "    lamp: on\n"
    )
