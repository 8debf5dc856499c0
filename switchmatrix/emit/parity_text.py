"""Parity as text: what each rig cannot do, by scene, then each scene on each rig."""

from __future__ import annotations

from switchmatrix.compare.records import Loss, Parity, SceneParity
from switchmatrix.model.song import STANDING


def parity_text(parity: Parity) -> str:
    """What the rigs after the first cannot do comes first."""
    first, *others = parity.rigs
    lines = [f"{parity.leg}: {first} and {' and '.join(others)}", ""]
    for n, rig in enumerate(others, 1):
        lines += _lost(rig, [(scene, scene.lost[n]) for scene in parity.scenes if scene.lost[n]])
    lines.append("Scene by scene")
    song = None
    for scene in parity.scenes:
        if scene.song != song:
            song = scene.song
            lines += ["", "standing scenes" if song == STANDING else song]
        lines += ["", *_scene(parity.rigs, scene)]
    return "\n".join(lines) + "\n"


def _lost(rig: str, scenes: list[tuple[SceneParity, tuple[Loss, ...]]]) -> list[str]:
    count = len(scenes)
    if not scenes:
        return [f"{rig} can do everything", ""]
    lines = [f"What {rig} cannot do, in {count} scene{'' if count == 1 else 's'}"]
    song = None
    for scene, losses in scenes:
        if scene.song != song:
            song = scene.song
            lines.append("  standing scenes" if song == STANDING else f"  {song}")
        lines.append(f"    {scene.scene}")
        lines += [f"      {_loss(loss)}" for loss in losses]
    return [*lines, ""]


def _loss(loss: Loss) -> str:
    place = f" ({loss.place.path}:{loss.place.line})" if loss.place is not None else ""
    return f"{loss.line}{place}: {loss.why}" if loss.line else f"{loss.why}{place}"


def _scene(rigs: tuple[str, ...], scene: SceneParity) -> list[str]:
    """A line of the song with what it comes to on each rig beside it."""
    heads = ["  " + scene.scene, *rigs]
    rows = [["    " + row.line, *(text or "nothing" for text in row.on)] for row in scene.lines]
    widths = [max(len(row[n]) for row in [heads, *rows]) for n in range(len(heads))]
    return [
        "  ".join(c.ljust(w) for c, w in zip(row, widths, strict=True)).rstrip() for row in [heads, *rows]
    ]
