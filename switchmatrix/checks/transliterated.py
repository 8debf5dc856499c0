"""A name that MIDI files cannot hold as it is."""

from __future__ import annotations

from switchmatrix.diagnostics import names
from switchmatrix.diagnostics.diagnostic import Diagnostic
from switchmatrix.midi.text import holds, latin
from switchmatrix.source import Span
from switchmatrix.states.show import ShowStates


def transliterated(show: ShowStates) -> list[Diagnostic]:
    """Each title or name outside Latin-1 that goes into a MIDI file."""
    texts: dict[tuple[str, Span], None] = {}
    for run in show.runs:
        texts.update({(device.name, device.span): None for device in run.rig.devices})
        texts.update({(port.out, port.span): None for port in run.rig.ports})
        for _, song in run.songs:
            texts[song.song.song.title, song.song.song.span] = None
            texts.update({(scene.name, scene.span): None for scene in song.song.song.scenes})
    return [
        names.TRANSLITERATED.at(
            span,
            f"`{text}` stands as `{latin(text).decode('latin-1')}` in MIDI files",
            "nothing to do if that reads well: the text of a MIDI file holds Latin-1 letters only",
        )
        for text, span in texts
        if not holds(text)
    ]
