"""In which order a definition's controls are set, from its YAML."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from switchmatrix.definition.definition import Definition
from tests.definition.kit import defined

HEAD = "definition: box\nprograms: {count: 8, first: 1, repeat: recalls}\ncontrols:\n"


def mode(name: str, cc: int, more: str) -> str:
    return f"  {name}: {{kind: choice, cc: {cc}, values: {{a: 0, b: 1}}{more}}}\n"


def named(made: Definition) -> tuple[list[str], list[str], list[str]]:
    """Before a recall; after it, each before what it reloads; the rest."""
    order, controls = made.order, made.controls
    return (
        [controls[n].name for n in order.first],
        [controls[n].name for n in order.resetting],
        [controls[n].name for n in order.others],
    )


@pytest.mark.parametrize(
    ("controls", "order"),
    [
        (mode("a", 20, "") + mode("b", 21, ""), ([], [], ["a", "b"])),
        (mode("a", 20, "") + mode("b", 21, ", resets: [a]"), (["b"], [], ["a"])),
        (mode("a", 20, "") + mode("b", 21, ", resets: [a], stored: yes"), ([], ["b"], ["a"])),
        # c reloads b, and b reloads a: c goes first.
        (
            mode("a", 20, "") + mode("b", 21, ", resets: [a]") + mode("c", 22, ", resets: [b]"),
            (["c", "b"], [], ["a"]),
        ),
        # A patch stores c, so it goes after the recall, and so does b, which it reloads.
        (
            mode("a", 20, "") + mode("b", 21, ", resets: [a]") + mode("c", 22, ", resets: [b], stored: yes"),
            ([], ["c", "b"], ["a"]),
        ),
        # Nothing moves c, so it goes before the recall; b is stored and goes after.
        (
            mode("a", 20, "") + mode("b", 21, ", resets: [a], stored: yes") + mode("c", 22, ", resets: [b]"),
            (["c"], ["b"], ["a"]),
        ),
        ("  t: {kind: trigger, cc: 20}\n" + mode("a", 21, ""), ([], [], ["a"])),
    ],
)
def test_choices_that_reload_others_go_before_them(
    controls: str, order: tuple[list[str], list[str], list[str]]
) -> None:
    assert named(defined(HEAD + controls)) == order


def test_moving_a_choice_moves_all_that_it_reloads_and_what_those_reload() -> None:
    made = defined(
        HEAD
        + mode("a", 20, "")
        + mode("b", 21, ", resets: [a]")
        + mode("c", 22, ", resets: [b]")
        + mode("d", 23, "")
    )
    assert [sorted(made.order.moved_with([n])) for n in range(4)] == [[0], [0, 1], [0, 1, 2], [3]]


@st.composite
def webs(draw: st.DrawFn) -> dict[str, tuple[list[str], bool]]:
    """Up to eight choices in any order, each reloading some of lower names, each stored or not."""
    ranked = [f"m{n}" for n in range(draw(st.integers(2, 8)))]
    resets = [
        draw(st.sets(st.sampled_from(ranked[:n])) if n else st.just(set[str]())) for n in range(len(ranked))
    ]
    return {
        ranked[n]: (sorted(resets[n]), draw(st.booleans())) for n in draw(st.permutations(range(len(ranked))))
    }


def web(given: dict[str, tuple[list[str], bool]]) -> Definition:
    return defined(
        HEAD
        + "".join(
            mode(name, 20 + n, f", resets: [{', '.join(resets)}]{', stored: yes' if stored else ''}")
            for n, (name, (resets, stored)) in enumerate(given.items())
        )
    )


@settings(max_examples=60)
@given(webs())
def test_no_choice_is_set_after_one_that_it_reloads(given: dict[str, tuple[list[str], bool]]) -> None:
    before, after, rest = named(web(given))
    line = [*before, *after, *rest]
    late = [(n, below) for n in line for below in given[n][0] if line.index(below) < line.index(n)]
    assert (sorted(line), late) == (sorted(given), [])


@settings(max_examples=60)
@given(webs())
def test_what_goes_before_a_recall_is_not_moved_by_it(given: dict[str, tuple[list[str], bool]]) -> None:
    before, _, _ = named(web(given))
    assert [name for name in before if given[name][1] or not given[name][0]] == []
