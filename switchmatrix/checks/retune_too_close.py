"""One instrument in two tunings with too few songs between them."""

from __future__ import annotations

from switchmatrix.diagnostics import names
from switchmatrix.diagnostics.diagnostic import Diagnostic, Related
from switchmatrix.model.rig import Instrument, Rig
from switchmatrix.model.song import Song
from switchmatrix.source import Span
from switchmatrix.states.show import Run, ShowStates


def retune_too_close(show: ShowStates) -> list[Diagnostic]:
    """Each song of a setlist that wants an instrument in another tuning than a song shortly before it."""
    return [finding.on_rig(run.rig.id) for run in show.runs for finding in _of_run(run)]


def _of_run(run: Run) -> list[Diagnostic]:
    found = []
    songs = {number: states.song.song for number, states in run.songs}
    items = [(number, item) for number, item in enumerate(run.leg.setlist, 1) if not item.standing]
    last: dict[str, tuple[int, str, Span]] = {}
    for position, (number, item) in enumerate(items):
        for instrument, tuning in _used(run.rig, songs.get(number)):
            before = last.get(instrument.name)
            if before is not None and before[1] != tuning:
                between = position - before[0] - 1
                if between < instrument.retune:
                    found.append(_finding(instrument, tuning, item.span, before, between))
            last[instrument.name] = (position, tuning, item.span)
    return found


def _used(rig: Rig, song: Song | None) -> list[tuple[Instrument, str]]:
    """The instruments that a song plays, each with the tuning that it wants of it."""
    if song is None:
        return []
    instruments = {instrument.name: instrument for instrument in rig.instruments}
    named = [song.instrument, *(scene.instrument for scene in song.scenes)]
    used: dict[str, tuple[Instrument, str]] = {}
    for ref in named:
        if ref is None or ref.name not in instruments:
            continue
        instrument = instruments[ref.name]
        main = song.instrument is not None and song.instrument.name == ref.name
        wanted = song.tuning.name if song.tuning is not None and main else instrument.tuning
        if wanted is not None:
            used.setdefault(ref.name, (instrument, wanted))
    return list(used.values())


def _finding(
    instrument: Instrument, tuning: str, span: Span, before: tuple[int, str, Span], between: int
) -> Diagnostic:
    songs = "1 song lies" if between == 1 else f"{between or 'no'} songs lie"
    message = f"`{instrument.name}`: {songs} between {before[1]} and {tuning}, it takes {instrument.retune}"
    help = "move the song, or bring a second instrument"
    related = (Related(before[2], f"in {before[1]} here"), Related(instrument.span, "its `retune` says so"))
    return names.RETUNE_TOO_CLOSE.at(span, message, help, related)
