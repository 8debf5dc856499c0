"""Which port of the machine a rig's name means."""

from __future__ import annotations

import pytest

from switchmatrix.live.matching import Ambiguous, Match, Missing, match

ALSA = ("Grey Box:Grey Box MIDI 1 20:0", "Grey Box:Grey Box MIDI 2 20:1", "Loom:Loom Out 24:0")
JACK = ("a2j:loom [24] (playback): Out", "stage left:main", "stage left:main 2", "stage right:aux")
PLAIN = ("Grey Box", "Grey Box 2", "Loom")


@pytest.mark.parametrize(
    ("wanted", "there", "name"),
    [
        ("Loom:Loom Out 24:0", ALSA, "Loom:Loom Out 24:0"),
        ("Loom:Loom Out", ALSA, "Loom:Loom Out 24:0"),
        ("Loom Out", ALSA, "Loom:Loom Out 24:0"),
        ("Loom", ALSA, "Loom:Loom Out 24:0"),
        ("Grey Box MIDI 2", ALSA, "Grey Box:Grey Box MIDI 2 20:1"),
        ("MIDI 2", ALSA, "Grey Box:Grey Box MIDI 2 20:1"),
        ("midi 2", ALSA, "Grey Box:Grey Box MIDI 2 20:1"),
        ("Grey*2", ALSA, "Grey Box:Grey Box MIDI 2 20:1"),
        ("grey*2", ALSA, "Grey Box:Grey Box MIDI 2 20:1"),
        ("Loom ???", ALSA, "Loom:Loom Out 24:0"),
        ("main", JACK, "stage left:main"),
        ("stage left:main", JACK, "stage left:main"),
        ("stage right", JACK, "stage right:aux"),
        ("[24]", JACK, "a2j:loom [24] (playback): Out"),
        ("Grey Box", PLAIN, "Grey Box"),
        ("Loom", PLAIN, "Loom"),
        ("out 20:0", ("switchmatrix stand-in 7:out 20:0",), "switchmatrix stand-in 7:out 20:0"),
        ("a*", ("switchmatrix stand-in 7:a*", "switchmatrix stand-in 8:ab"), "switchmatrix stand-in 7:a*"),
        ("main: a", ("switchmatrix stand-in 7:main: a",), "switchmatrix stand-in 7:main: a"),
    ],
)
def test_name_that_fits_one_port_means_it(wanted: str, there: tuple[str, ...], name: str) -> None:
    assert match(wanted, there) == Match(wanted, name)


@pytest.mark.parametrize(
    ("wanted", "there", "fits"),
    [
        ("Grey Box", ALSA, ALSA[:2]),
        ("MIDI", ALSA, ALSA[:2]),
        ("*", PLAIN, PLAIN),
        ("stage left", JACK, JACK[1:3]),
        ("twin", ("twin", "twin"), ("twin", "twin")),
    ],
)
def test_name_that_fits_several_ports_is_ambiguous(
    wanted: str, there: tuple[str, ...], fits: tuple[str, ...]
) -> None:
    assert match(wanted, there) == Ambiguous(wanted, fits, there)


@pytest.mark.parametrize("wanted", ["lamp", "", "20:0", "Grey Box 3", "[", "24"])
def test_name_that_fits_no_port_is_missing(wanted: str) -> None:
    assert match(wanted, ALSA) == Missing(wanted, ALSA)


def test_missing_says_what_there_is() -> None:
    assert Missing("lamp", PLAIN).text == "no port is `lamp`; there are `Grey Box`, `Grey Box 2`, `Loom`"


def test_missing_says_that_there_is_only_one() -> None:
    assert Missing("lamp", ("Loom",)).text == "no port is `lamp`; there is only `Loom`"


def test_missing_says_that_there_is_none() -> None:
    assert Missing("lamp", ()).text == "no port is `lamp`; there is none at all"


def test_ambiguous_says_what_fits_and_what_there_is() -> None:
    text = "`Grey` could be `Grey Box` and `Grey Box 2`; there are `Grey Box`, `Grey Box 2`, `Loom`"
    assert Ambiguous("Grey", PLAIN[:2], PLAIN).text == text
