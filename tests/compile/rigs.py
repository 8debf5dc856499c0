"""Small rigs from text: the lines of their devices, their definitions, their song."""

from __future__ import annotations

from collections.abc import Mapping

from switchmatrix.pipeline import Judged
from tests.support import judged


def files_of(devices: str, definitions: Mapping[str, str], song: str, extra: str = "") -> dict[str, str]:
    """A show of one rig, `rack` and `loft` its ports at 31,250 baud; `extra` goes into the rig's file.

    `devices` are lines `NAME: {...}`, `definitions` ids to what stands below their first line, `song` the
    scenes' lines.
    """
    indented = "".join(f"  {line}\n" for line in devices.strip().splitlines())
    return {
        "show.yaml": "show: Tidewrack\nrigs: [a-rig]\nlegs: {tour: {rigs: [a-rig], setlist: [lantern]}}\n",
        "rigs/a-rig.yaml": "rig: A rig\n"
        "ports: {rack: {out: rack, speed: din}, loft: {out: loft, speed: din}}\n"
        f"devices:\n{indented}{extra.strip()}\n",
        "lantern.yaml": f"song: Lantern\nscenes:\n{song.rstrip()}\n",
        **{
            f"definitions/{id}.yaml": f"definition: {id}\n{text.strip()}\n"
            for id, text in definitions.items()
        },
    }


def rig_show(devices: str, definitions: Mapping[str, str], song: str, extra: str = "") -> Judged:
    """The show of such a rig, judged."""
    return judged(files_of(devices, definitions, song, extra), base=None)
