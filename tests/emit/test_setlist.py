"""The running order for the music stand."""

from __future__ import annotations

from switchmatrix.emit.setlist import setlist
from switchmatrix.pipeline import plan
from tests.support import BASE_SHOW, judged

RIG = (BASE_SHOW / "rigs" / "a-rig.yaml").read_text(encoding="utf-8")


def test_songs_stand_with_their_instruments_and_standing_scenes_with_their_remarks() -> None:
    show = judged(
        {
            "show.yaml": (
                "show: Tidewrack\n"
                "rigs: [a-rig]\n"
                "legs:\n"
                "  tour:\n"
                "    rigs: [a-rig]\n"
                "    setlist: [lantern, {standing: silence, remark: capo off}, "
                "{standing: silence}, harbour]\n"
            ),
            "rigs/a-rig.yaml": RIG
            + "instruments: {mandola: {tuning: C G D A}, upright: {}}\nstanding: {silence: {echo: off}}\n",
            "lantern.yaml": "song: Lantern\ninstrument: mandola\nscenes: {verse: {gate: tight}}\n",
            "harbour.yaml": "song: Harbour\ninstrument: upright\nscenes: {verse: {gate: tight}}\n",
        }
    )
    assert setlist(plan(show)[0]) == (
        "tour, A rig\n"
        "\n"
        "01  Lantern, mandola (C G D A)\n"
        "02  (silence: capo off)\n"
        "03  (silence)\n"
        "04  Harbour, upright\n"
    )


def tuned(rig: str, keys: str) -> str:
    """The last line of a setlist of one song with these keys, on a rig with these instruments."""
    show = judged(
        {
            "rigs/a-rig.yaml": f"{RIG}instruments: {rig}\n",
            "lantern.yaml": f"song: Lantern\n{keys}scenes: {{verse: {{gate: tight}}}}\n",
        }
    )
    return setlist(plan(show)[0]).splitlines()[-1]


def test_a_songs_own_tuning_stands_instead_of_the_instruments() -> None:
    keys = "instrument: baritone\ntuning: drop A\n"
    assert tuned("{baritone: {tuning: B standard}}", keys) == "01  Lantern, baritone (drop A)"


def test_a_songs_own_tuning_stands_where_the_instrument_has_none() -> None:
    assert (
        tuned("{baritone: {}}", "instrument: baritone\ntuning: drop A\n") == "01  Lantern, baritone (drop A)"
    )


def test_a_song_without_an_instrument_shows_none() -> None:
    assert tuned("{baritone: {tuning: B standard}}", "") == "01  Lantern"
