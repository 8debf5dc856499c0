"""`switchmatrix stages`: the value after each stage of the pipeline, for people who work on the tool."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from enum import Enum
from fractions import Fraction
from pathlib import Path

import click

from switchmatrix.cli.common import show_argument
from switchmatrix.pipeline import judge, plan
from switchmatrix.source import Span


@click.command("stages", short_help="Print a stage of the pipeline, for developers.")
@show_argument
@click.option("--stage", type=click.Choice(["nodes", "model", "states", "plan"]), required=True)
def command(show: Path, stage: str) -> None:
    """Print what SHOW has become after a stage: nodes, model, states or plan."""
    judged = judge(show)
    if stage == "plan" and not judged.sound:
        raise click.ClickException("the show has errors, so it has no plan: see `switchmatrix check`")
    value: object
    match stage:
        case "nodes":
            value = judged.nodes
        case "model":
            value = judged.model
        case "states":
            value = judged.states
        case _:
            value = plan(judged)
    click.echo("".join(f"{line}\n" for line in dump("", value)), nl=False)


def dump(label: str, value: object) -> Iterator[str]:
    """The value as indented lines, a field a line."""
    head = f"{label}: " if label else ""
    if isinstance(value, Span | Fraction | Enum) or value is None or isinstance(value, str | int | float):
        yield f"{head}{value}"
    elif isinstance(value, bytes):
        yield f"{head}{value.hex(' ').upper()}"
    elif is_dataclass(value) and not isinstance(value, type):
        yield f"{head}{type(value).__name__}"
        for field in fields(value):
            yield from _indented(dump(field.name, getattr(value, field.name)))
    elif isinstance(value, dict):
        yield f"{head}{len(value)} entries"
        for key, item in value.items():
            yield from _indented(dump(str(key), item))
    elif isinstance(value, tuple | list | frozenset):
        items = sorted(value, key=str) if isinstance(value, frozenset) else list(value)
        yield f"{head}{len(items)} items"
        for number, item in enumerate(items, 1):
            yield from _indented(dump(str(number), item))
    else:
        yield f"{head}{value!r}"


def _indented(lines: Iterator[str]) -> Iterator[str]:
    return (f"  {line}" for line in lines)
