"""`switchmatrix compile`: a folder for each leg and rig, with MIDI files, listings and message tables."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.cli.kit import TWO_LEGS, below, lay, run


def test_each_leg_and_rig_has_its_folder_of_songs_states_and_tables(tmp_path: Path) -> None:
    run("compile", lay(tmp_path, TWO_LEGS), "--out", tmp_path / "out")

    assert below(tmp_path / "out") == [
        "summer/a-rig/00-standing.scene-01-changeover.mid",
        "summer/a-rig/00-standing.txt",
        "summer/a-rig/01-lantern.mid",
        "summer/a-rig/01-lantern.scene-01-verse.mid",
        "summer/a-rig/01-lantern.scene-02-chorus.mid",
        "summer/a-rig/01-lantern.txt",
        "summer/a-rig/03-harbour.mid",
        "summer/a-rig/03-harbour.scene-01-swell.mid",
        "summer/a-rig/03-harbour.scene-01-swell@2.mid",
        "summer/a-rig/03-harbour.txt",
        "summer/a-rig/messages.csv",
        "summer/a-rig/messages.json",
        "summer/a-rig/setlist.txt",
        "summer/b-rig/00-standing.scene-01-changeover.mid",
        "summer/b-rig/00-standing.txt",
        "summer/b-rig/01-lantern.mid",
        "summer/b-rig/01-lantern.scene-01-verse.mid",
        "summer/b-rig/01-lantern.scene-02-chorus.mid",
        "summer/b-rig/01-lantern.txt",
        "summer/b-rig/03-harbour.mid",
        "summer/b-rig/03-harbour.scene-01-swell.mid",
        "summer/b-rig/03-harbour.scene-01-swell@2.mid",
        "summer/b-rig/03-harbour.txt",
        "summer/b-rig/messages.csv",
        "summer/b-rig/messages.json",
        "summer/b-rig/setlist.txt",
        "winter/a-rig/00-standing.scene-01-changeover.mid",
        "winter/a-rig/00-standing.txt",
        "winter/a-rig/01-harbour.mid",
        "winter/a-rig/01-harbour.scene-01-swell.mid",
        "winter/a-rig/01-harbour.scene-01-swell@2.mid",
        "winter/a-rig/01-harbour.txt",
        "winter/a-rig/messages.csv",
        "winter/a-rig/messages.json",
        "winter/a-rig/setlist.txt",
    ]


def test_the_terminal_shows_a_table_of_what_was_made(tmp_path: Path) -> None:
    out = tmp_path / "out"

    ran = run("compile", lay(tmp_path, TWO_LEGS), "--out", out)

    assert (ran.code, ran.err) == (0, "")
    assert ran.out == (
        f"""\
leg     rig    songs  scenes  visits  messages  bytes  warnings
summer  a-rig      2       4       4        13     35         0
summer  b-rig      2       4       4        13     35         0
winter  a-rig      1       2       2         8     22         0
35 files written below {out}
"""
    )


def test_a_song_without_places_has_no_file_of_its_own_but_its_states_have(tmp_path: Path) -> None:
    show = lay(tmp_path, {"lantern.yaml": "song: Lantern\nscenes:\n  verse: {gate: tight}\n"})

    run("compile", show, "--out", tmp_path / "out")

    assert below(tmp_path / "out") == [
        "tour/a-rig/01-lantern.scene-01-verse.mid",
        "tour/a-rig/01-lantern.txt",
        "tour/a-rig/messages.csv",
        "tour/a-rig/messages.json",
        "tour/a-rig/setlist.txt",
    ]


def test_without_a_folder_named_it_is_out(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    show = lay(tmp_path)
    monkeypatch.chdir(tmp_path)

    ran = run("compile", show)

    assert (ran.code, ran.out.splitlines()[-1], below(tmp_path / "out")[0]) == (
        0,
        "7 files written below out",
        "tour/a-rig/01-lantern.mid",
    )


@pytest.mark.parametrize(
    ("args", "folders"),
    [
        (("--leg", "summer"), ["summer/a-rig", "summer/b-rig"]),
        (("--rig", "a-rig"), ["summer/a-rig", "winter/a-rig"]),
        (("--leg", "summer", "--rig", "b-rig"), ["summer/b-rig"]),
    ],
    ids=lambda value: " ".join(value),
)
def test_a_leg_or_rig_named_is_compiled_alone(
    tmp_path: Path, args: tuple[str, ...], folders: list[str]
) -> None:
    run("compile", lay(tmp_path, TWO_LEGS), "--out", tmp_path / "out", *args)

    assert sorted({path.rpartition("/")[0] for path in below(tmp_path / "out")}) == folders


@pytest.mark.parametrize(
    ("args", "message"),
    [
        (("--leg", "wintr"), "no leg is called wintr: did you mean `winter`?"),
        (("--leg", "x"), "no leg is called x: known here as legs: `summer`, `winter`"),
        (("--rig", "main"), "no rig is called main: known here as rigs: `a-rig`, `b-rig`"),
        (("--leg", "winter", "--rig", "b-rig"), "no rig is called b-rig: did you mean `a-rig`?"),
    ],
    ids=lambda value: " ".join(value) if isinstance(value, tuple) else "",
)
def test_a_leg_or_rig_that_is_none_is_wrong_usage_and_nothing_is_written(
    tmp_path: Path, args: tuple[str, ...], message: str
) -> None:
    ran = run("compile", lay(tmp_path, TWO_LEGS), "--out", tmp_path / "out", *args)

    assert (ran.code, ran.out, ran.err.splitlines()[-1], below(tmp_path / "out")) == (
        2,
        "",
        f"Error: {message}",
        [],
    )


def test_the_listing_holds_each_visit_with_its_messages(tmp_path: Path) -> None:
    run("compile", lay(tmp_path, TWO_LEGS), "--out", tmp_path / "out")

    assert (tmp_path / "out/summer/a-rig/03-harbour.txt").read_text(encoding="utf-8") == (
        """\
3. Harbour
summer, A rig
tempo 120 from bar 1, 100 from bar 9

1. swell, bar 1
   4 messages, landed after 37.6 ms (bound 37.6 ms)
   +0.0 to +35.6 ms   echo recalls cliff (panel 17)    rack ch 3  C2 10     harbour.yaml:4
   +0.6 to +1.6 ms    gate-1 sets threshold to -38 dB  rack ch 2  B1 14 40  harbour.yaml:4
   +35.6 to +36.6 ms  echo sets engage to on           rack ch 3  B2 50 7F  harbour.yaml:4
   +36.6 to +37.6 ms  echo sets time to 250 ms         rack ch 3  B2 16 19  harbour.yaml:4

2. swell, bar 9
   1 message, landed after 1.0 ms (bound 1.0 ms)
   +0.0 to +1.0 ms  echo sets time to 300 ms  rack ch 3  B2 16 1E  harbour.yaml:4
"""
    )


def test_messages_csv_has_a_row_for_each_message_of_each_visit(tmp_path: Path) -> None:
    run("compile", lay(tmp_path), "--out", tmp_path / "out")

    assert (tmp_path / "out/tour/a-rig/messages.csv").read_bytes().decode("utf-8") == (
        """\
song,visit,scene,starts_us,lands_us,port,device,meaning,bytes_hex,file,line
lantern,1,verse,0,35640,rack,echo,recalls slap (panel 4),C2 03,rigs/a-rig.yaml,17
lantern,1,verse,640,1600,rack,gate-1,sets threshold to -38 dB,B1 14 40,lantern.yaml,4
lantern,1,verse,35640,36600,rack,echo,sets engage to off,B2 50 00,rigs/a-rig.yaml,17
lantern,2,chorus,0,35640,rack,echo,recalls cliff (panel 17),C2 10,lantern.yaml,5
lantern,2,chorus,35640,36600,rack,echo,sets engage to on,B2 50 7F,lantern.yaml,5
"""
    )


# RFC 4180, section 2: a field with a comma or a double quote stands in double quotes, its quotes doubled.
def test_messages_csv_quotes_a_name_with_a_comma_or_a_quote(tmp_path: Path) -> None:
    song = "song: Lantern\nscenes:\n  'verse, \"soft\"': {gate: tight}\n"
    run("compile", lay(tmp_path, {"lantern.yaml": song}), "--out", tmp_path / "out")

    table = (tmp_path / "out/tour/a-rig/messages.csv").read_text(encoding="utf-8")

    assert table.splitlines()[2] == (
        'lantern,1,"verse, ""soft""",640,1600,rack,gate-1,sets threshold to -38 dB,B1 14 40,lantern.yaml,3'
    )


def test_messages_json_has_the_rows_with_channel_layer_and_name(tmp_path: Path) -> None:
    run("compile", lay(tmp_path), "--out", tmp_path / "out")

    rows = json.loads((tmp_path / "out/tour/a-rig/messages.json").read_text(encoding="utf-8"))

    assert (len(rows), rows[3]) == (
        5,
        {
            "song": "lantern",
            "visit": 2,
            "scene": "chorus",
            "starts_us": 0,
            "lands_us": 35640,
            "port": "rack",
            "channel": 3,
            "device": "echo",
            "meaning": "recalls cliff (panel 17)",
            "bytes_hex": "C2 10",
            "file": "lantern.yaml",
            "line": 5,
            "layer": "scene chorus",
            "name": "echo.patch: cliff",
        },
    )


# RP-001, p. 3 and 4: MThd, length 6, format, number of tracks, ticks a quarter note (here 960, 03 C0).
@pytest.mark.parametrize(
    ("args", "head"),
    [
        ((), "4D 54 68 64 00 00 00 06 00 01 00 03 03 C0"),
        (("--smf-format", "1"), "4D 54 68 64 00 00 00 06 00 01 00 03 03 C0"),
        (("--smf-format", "0"), "4D 54 68 64 00 00 00 06 00 00 00 01 03 C0"),
    ],
    ids=["unsaid", "1", "0"],
)
def test_the_format_asked_for_stands_in_the_files_head(
    tmp_path: Path, args: tuple[str, ...], head: str
) -> None:
    run("compile", lay(tmp_path), "--out", tmp_path / "out", *args)

    data = (tmp_path / "out/tour/a-rig/01-lantern.mid").read_bytes()

    assert data[:14].hex(" ").upper() == head


def test_format_0_of_a_rig_of_two_ports_is_a_file_for_each_port(tmp_path: Path) -> None:
    rig = (
        (lay(tmp_path) / "rigs/a-rig.yaml")
        .read_text(encoding="utf-8")
        .replace("devices:", "  pedal board: {out: board, speed: usb}\ndevices:")
        .replace("gate-1: {port: rack", "gate-1: {port: pedal board")
    )
    show = lay(tmp_path / "two", {"rigs/a-rig.yaml": rig})

    run("compile", show, "--out", tmp_path / "out", "--smf-format", "0")

    assert [path for path in below(tmp_path / "out") if path.endswith(".mid")] == [
        "tour/a-rig/01-lantern.pedal-board.mid",
        "tour/a-rig/01-lantern.rack.mid",
        "tour/a-rig/01-lantern.scene-01-verse.pedal-board.mid",
        "tour/a-rig/01-lantern.scene-01-verse.rack.mid",
        "tour/a-rig/01-lantern.scene-02-chorus.pedal-board.mid",
        "tour/a-rig/01-lantern.scene-02-chorus.rack.mid",
    ]


def test_there_is_no_format_2(tmp_path: Path) -> None:
    ran = run("compile", lay(tmp_path), "--out", tmp_path / "out", "--smf-format", "2")

    assert (ran.code, ran.out, below(tmp_path / "out")) == (2, "", [])


def test_a_warning_is_told_and_the_show_is_compiled(tmp_path: Path) -> None:
    song = "song: Lantern\nscenes:\n  verse: {gate: tight, echo.mix: 40 %}\n"
    ran = run("compile", lay(tmp_path, {"lantern.yaml": song}), "--out", tmp_path / "out")

    assert (ran.code, ran.out.splitlines()[1], len(below(tmp_path / "out"))) == (
        0,
        "tour  a-rig      1       1       1         4     11         1",
        5,
    )
    assert ran.err == (
        """\
warning set-while-bypassed: `echo.mix: 40 %` is never heard: `echo` is bypassed wherever the line counts
  at lantern.yaml:3:24
    3 |   verse: {gate: tight, echo.mix: 40 %}
                               ^^^^^^^^
  what to do: turn it on with `echo: on`, or take the line out

1 warning
"""
    )


def test_where_there_is_an_error_nothing_is_written_and_it_is_told(tmp_path: Path) -> None:
    song = "song: Lantern\nscenes:\n  verse: {gate: tigh}\n"
    ran = run("compile", lay(tmp_path, {"lantern.yaml": song}), "--out", tmp_path / "out")

    assert (ran.code, ran.out, (tmp_path / "out").exists()) == (1, "", False)
    assert ran.err == (
        """\
error unknown-word: `gate` has no word `tigh`
  at lantern.yaml:3:17
    3 |   verse: {gate: tigh}
                        ^^^^
  what to do: did you mean `tight`?

1 error: nothing was compiled
"""
    )


def test_where_there_is_an_error_the_files_of_an_earlier_day_stay_as_they_are(tmp_path: Path) -> None:
    show, out = lay(tmp_path), tmp_path / "out"
    run("compile", show, "--out", out)
    before = {path: (out / path).read_bytes() for path in below(out)}
    (show / "lantern.yaml").write_text("song: Lantern\nscenes:\n  verse: {gate: tigh}\n", encoding="utf-8")

    run("compile", show, "--out", out)

    assert {path: (out / path).read_bytes() for path in below(out)} == before


def test_the_same_show_compiles_to_the_same_bytes(tmp_path: Path) -> None:
    show, first, second = lay(tmp_path, TWO_LEGS), tmp_path / "first", tmp_path / "second"
    run("compile", show, "--out", first)
    run("compile", show, "--out", second)

    assert {p: (first / p).read_bytes() for p in below(first)} == {
        p: (second / p).read_bytes() for p in below(second)
    }
