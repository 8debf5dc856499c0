"""Pictures of the screen for the README, made from the example show: `python -m tests.screens.pictures`."""

from __future__ import annotations

import asyncio
import re
import tempfile
import time
from pathlib import Path

from textual.pilot import Pilot

from switchmatrix.cli.rehearse import MARK
from switchmatrix.live.stepping.prepared import Prepared, prepare
from switchmatrix.live.stepping.stops import Key
from switchmatrix.pipeline import judge
from switchmatrix.screens.rehearse.app import RehearsalApp
from tests.screens.kit import room, until

ROOT = Path(__file__).parents[2]
FOLDER = ROOT / "switchmatrix" / "manual" / "pictures"
PICTURES = {"gate": (80, 24), "here": (80, 24), "looking-ahead": (160, 48)}
"""Each picture with the size of its screen."""

_FONTS = re.compile(r"\s*@font-face \{.*?\}\n", re.DOTALL)
_BUTTONS = re.compile(r"<g transform=\"translate\(26,22\)\">.*?</g>", re.DOTALL)
_TITLE = re.compile(r"<text class=\"[^\"]*-title\".*?</text>", re.DOTALL)


class Still(RehearsalApp):
    """The screen with its clock stopped: pictures are the same whenever they are made."""

    def day_clock(self, moment_ns: int) -> str:  # noqa: ARG002
        """A time of day."""
        return "19:30:00"


def example() -> Prepared:
    """The example show's first leg on its A rig."""
    return prepare(judge(ROOT / "songs").worked_out, "summer-season", ["a-rig"])


def bare(svg: str) -> str:
    """A picture without fonts from the web, and without the look of a window."""
    for part in (_FONTS, _BUTTONS, _TITLE):
        svg = part.sub("", svg)
    return svg.replace("Fira Code, ", "").replace("Fira Code", "monospace")


def picture(name: str, show: Prepared) -> str:
    """The picture of that name."""
    return asyncio.run(_picture(name, show))


async def _picture(name: str, show: Prepared) -> str:
    with tempfile.TemporaryDirectory() as folder:
        at = Key(3, "harbour-bell", "crowd", 1)
        with room(Path(folder), show, said=name != "gate", at=at) as one:
            app = Still(one.rehearsal, time.monotonic_ns, MARK)
            async with app.run_test(size=PICTURES[name]) as pilot:
                await _shown(name, app, pilot)
                return bare(app.export_screenshot(title="switchmatrix rehearse"))


async def _shown(name: str, app: RehearsalApp, pilot: Pilot[None]) -> None:
    async def through() -> None:
        await until(pilot, lambda: not app.rehearsal.state.rig("a-rig").pending)
        await pilot.pause(0.1)

    await through()
    if name == "gate":
        return
    await pilot.press("n")
    await through()
    if name == "looking-ahead":
        await pilot.press("p", "p")
        await pilot.pause(0.1)


def main() -> None:
    """Write them all."""
    FOLDER.mkdir(exist_ok=True)
    show = example()
    for name in PICTURES:
        (FOLDER / f"{name}.svg").write_text(picture(name, show), encoding="utf-8")


if __name__ == "__main__":
    main()
