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
