"""First visits come from unknown, later ones from the visit before; bytes are whole and always the same."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from tests.compile.shown import in_file, midi_files, visits, wire
from tests.support import BASE_SHOW, judged, timed

SONG = """
song: Lantern
tempo: 120
scenes:
  verse: {at: [bar 1, bar 5], gate: tight}
  chorus: {at: bar 3, like: verse, echo: cliff}
  bridge: {at: bar 7, like: chorus, echo.mix: 50 %}
"""
FROM_UNKNOWN = ["C2 03", "B1 14 40", "B2 50 00"]
TO_CHORUS = ["C2 10", "B2 50 7F"]
BACK_TO_VERSE = ["C2 03", "B2 50 00"]
TO_BRIDGE = ["C2 10", "B2 50 7F", "B2 15 32"]


def test_the_first_visit_comes_from_unknown_and_later_ones_from_the_visit_before() -> None:
    assert [[m.split(" ", 1)[1] for m in v] for v in visits(judged({"lantern.yaml": SONG}))] == [
        FROM_UNKNOWN,
        TO_CHORUS,
        BACK_TO_VERSE,
        TO_BRIDGE,
    ]


def test_the_songs_file_holds_the_messages_of_its_visits() -> None:
    files = midi_files(judged({"lantern.yaml": SONG}))
    assert in_file(files["01-lantern.mid"]) == FROM_UNKNOWN + TO_CHORUS + BACK_TO_VERSE + TO_BRIDGE


def test_a_scenes_own_file_comes_from_unknown() -> None:
    files = midi_files(judged({"lantern.yaml": SONG}))
    assert in_file(files["01-lantern.scene-03-bridge.mid"]) == ["C2 10", "B1 14 40", "B2 50 7F", "B2 15 32"]


def test_a_song_starts_from_unknown_whatever_song_comes_before_it() -> None:
    gull = "song: Gull\nscenes: {verse: {gate: tight}}\n"
    legs = "show: Tidewrack\nrigs: [a-rig]\nlegs: {tour: {rigs: [a-rig], setlist: [lantern, gull]}}\n"
    show = judged({"lantern.yaml": SONG, "gull.yaml": gull, "show.yaml": legs})
    assert visits(show, "gull") == [["echo C2 03", "gate-1 B1 14 40", "echo B2 50 00"]]


@pytest.mark.parametrize("format", [0, 1])
def test_every_message_of_a_file_has_its_status_byte(format: int) -> None:
    # Five controls of one channel in a row: where running status would save bytes.
    song = SONG + "  coda: {at: bar 9, like: chorus, echo: {engage: off, mix: 1 %, time: 10 ms}}\n"
    whole = midi_files(judged({"lantern.yaml": song}), format=format)["01-lantern.mid"]
    assert in_file(whole)[-3:] == ["B2 50 00", "B2 15 01", "B2 16 01"]


def test_a_reader_of_files_refuses_running_status() -> None:
    track = bytes.fromhex("00 B0 14 01 00 15 02 00 FF 2F 00")
    data = b"MThd" + bytes(10) + b"MTrk" + len(track).to_bytes(4, "big") + track
    with pytest.raises(ValueError, match="an event without its status byte: 15"):
        in_file(data)


def test_a_message_is_one_status_byte_and_data_bytes() -> None:
    data = [m.step.data for m in timed(judged({"lantern.yaml": SONG}), "lantern", "bridge")]
    assert [[byte >= 0x80 for byte in message] for message in data] == [
        [True, False],
        [True, False, False],
        [True, False, False],
        [True, False, False],
    ]


def test_the_same_show_read_twice_has_the_same_bytes() -> None:
    files = {"lantern.yaml": SONG}
    assert midi_files(judged(files)) == midi_files(judged(files))
    assert wire(judged(files), "bridge", "verse") == wire(judged(files), "bridge", "verse")


def _compiled(out: Path, seed: str) -> dict[str, bytes]:
    """The files that a fresh interpreter with this hash seed makes of the base show."""
    command = [sys.executable, "-m", "switchmatrix", "compile", str(BASE_SHOW), "--out", str(out)]
    subprocess.run(command, check=True, capture_output=True, env={**os.environ, "PYTHONHASHSEED": seed})
    return {str(p.relative_to(out)): p.read_bytes() for p in sorted(out.rglob("*")) if p.is_file()}


def test_hash_seeds_change_no_byte_of_any_file(tmp_path: Path) -> None:
    one, other = _compiled(tmp_path / "one", "1"), _compiled(tmp_path / "other", "2")
    assert "tour/a-rig/01-lantern.mid" in one
    assert one == other
