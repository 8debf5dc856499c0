"""The command line: one command a file, each loaded when it is called."""

from __future__ import annotations

import importlib
import sys
import traceback

import click

from switchmatrix import __version__

COMMANDS = (
    *("check", "explain", "compile", "prove", "messages", "timing", "state"),
    *("diff", "rack", "chart", "schema", "new", "manual", "stages"),
    *("ports", "send", "stand-in", "line-check", "rehearse"),
)
OUR_FAULT = 70


class _Commands(click.Group):
    """Commands by name, imported on first use."""

    def list_commands(self, ctx: click.Context) -> list[str]:  # noqa: ARG002
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:  # noqa: ARG002
        if cmd_name not in COMMANDS:
            return None
        command = importlib.import_module(f"switchmatrix.cli.{cmd_name.replace('-', '_')}").command
        if not isinstance(command, click.Command):
            raise TypeError(cmd_name)
        return command


@click.group(cls=_Commands, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, prog_name="switchmatrix")
def switchmatrix() -> None:
    """Compile a touring rig's scenes into exact MIDI messages.

    SHOW is the folder that holds show.yaml. Exit codes: 0 clean, 1 the show has errors (with --strict
    also warnings), 2 the command was given wrongly, 70 a fault of switchmatrix itself.
    """


def _sent(args: list[str] | None) -> str:
    """What a command that failed may have sent."""
    given = sys.argv[1:] if args is None else args
    if given[:1] in (["send"], ["line-check"], ["rehearse"]):
        return "Nobody knows what was sent: mute, and send silence or a whole scene."
    return "Nothing was sent."


def main(args: list[str] | None = None) -> None:
    """Run the command line and exit."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="backslashreplace")
    try:
        switchmatrix.main(args=args, prog_name="switchmatrix")
    except Exception:
        traceback.print_exc()
        click.echo(f"\nThis is a fault of switchmatrix, not of your show. {_sent(args)}", err=True)
        sys.exit(OUR_FAULT)
