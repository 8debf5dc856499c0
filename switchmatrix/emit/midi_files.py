"""Standard MIDI Files: a song with its visits, and each distinct state of a scene."""

from __future__ import annotations

from fractions import Fraction

from switchmatrix.compile.plan import PlannedState, SongPlan
from switchmatrix.compile.sentence import by_hand
from switchmatrix.compile.ticks import Placed, scene_ticks, song_ticks
from switchmatrix.midi import smf
from switchmatrix.midi.text import latin
from switchmatrix.model.rig import Device, Rig
from switchmatrix.states.timeline import TICKS_PER_QUARTER, MeterChange, TempoChange, Timeline

Events = list[tuple[int, bytes]]
_STEADY = Timeline((TempoChange(0, 0, smf.DEFAULT_QUARTER_US, Fraction(500)),), (MeterChange(0, 4, 4),))


def slug(name: str) -> str:
    """A name as part of a file's name: letters and digits, the rest as hyphens."""
    plain = "".join(c if c.isalnum() or c in "-_" else "-" for c in name)
    return plain.encode("utf-8")[:60].decode("utf-8", errors="ignore")


def stem(song: SongPlan) -> str:
    """`04-nine-lanterns`."""
    return f"{song.number:02d}-{song.states.song.song.id}"


def song_files(rig: Rig, song: SongPlan, format: int) -> dict[str, bytes]:
    """The song's file (where its scenes have places) and one for each distinct state, by name.

    In format 0, which has one track and so one port, a rig of several ports gets a file a port.
    """
    files: dict[str, bytes] = {}
    if song.states.placed:
        placed = song_ticks(rig, song.states.timeline, song.visits)
        files |= _files(rig, stem(song), _conductor(rig, song), placed, format)
    for scene in song.scenes:
        label = slug(scene.scene.scene) + ("" if scene.scene.nth == 1 else f"@{scene.scene.nth}")
        name = f"{stem(song)}.scene-{scene.scene.position:02d}-{label}"
        placed = scene_ticks(rig, _STEADY, scene.messages)
        files |= _files(rig, name, _scene_conductor(rig, song, scene), placed, format)
    return files


def _title(song: SongPlan) -> bytes:
    return smf.meta(smf.TRACK_NAME, latin(song.states.song.song.title))


def _time(line: Timeline) -> Events:
    """Tempo and meter events; both are stated even where the song leaves them to the standard's defaults."""
    meters = [(m.tick, smf.meter(m.beats, m.unit)) for m in line.meters or _STEADY.meters]
    tempos = [(t.tick, smf.tempo(t.quarter_us)) for t in line.tempos or _STEADY.tempos]
    return meters + tempos


def _by_hand(rig: Rig) -> Events:
    """What a person sets by hand first, as text."""
    return [(0, smf.meta(smf.TEXT, latin(line))) for line in by_hand(rig)]


def _conductor(rig: Rig, song: SongPlan) -> Events:
    markers = [(v.visit.tick or 0, smf.meta(smf.MARKER, latin(v.visit.scene))) for v in song.visits]
    events = [(0, _title(song)), *_by_hand(rig), *_time(song.states.timeline), *markers]
    return sorted(events, key=lambda event: event[0])


def _scene_conductor(rig: Rig, song: SongPlan, scene: PlannedState) -> Events:
    return [
        (0, _title(song)),
        *_by_hand(rig),
        *_time(_STEADY),
        (0, smf.meta(smf.MARKER, latin(scene.scene.label))),
    ]


def _files(rig: Rig, name: str, conductor: Events, placed: list[Placed], format: int) -> dict[str, bytes]:
    if format == 1:
        tracks = [smf.track(conductor)]
        tracks += [smf.track(_device_events(rig, device, placed)) for device in rig.devices]
        return {f"{name}.mid": smf.file(tracks, TICKS_PER_QUARTER, 1)}
    used = [port for port in rig.ports if any(device.port == port.name for device in rig.devices)]
    files: dict[str, bytes] = {}
    for number, port in enumerate(used, 1):
        ending = f".{slug(port.name)}.mid" if len(used) > 1 else ".mid"
        if name + ending in files:
            ending = f".{slug(port.name)}-{number}.mid"
        here = [(tick, smf.event(m.step.data)) for m, tick in placed if m.step.port == port.name]
        events = [(0, smf.meta(smf.DEVICE_NAME, latin(port.out))), *conductor, *here]
        events.sort(key=lambda event: event[0])
        files[name + ending] = smf.file([smf.track(events)], TICKS_PER_QUARTER, 0)
    return files


def _device_events(rig: Rig, device: Device, placed: list[Placed]) -> Events:
    """A device's track: its name, its port as the device name (RP-019), its messages."""
    port = rig.port(device.port)
    head = [
        (0, smf.meta(smf.TRACK_NAME, latin(device.name))),
        (0, smf.meta(smf.DEVICE_NAME, latin(port.out))),
    ]
    return head + [(tick, smf.event(m.step.data)) for m, tick in placed if m.step.device == device.name]
