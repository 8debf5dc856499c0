"""Values, places and tempos written wrongly: each brings one finding that says how to write it.

Each row changes one piece of the base show:

    # lantern.yaml
    song: Lantern
    tempo: 120
    scenes:
      verse: {at: bar 1, gate: tight}
      chorus: {at: bar 9, like: verse, echo: cliff}
"""

from __future__ import annotations

import pytest

from tests.syntax.slip import Changed, block, seen_after

VALUES = (
    Changed(
        "echo: cliff",
        "echo: {engage: on, mix: 40}",
        """
        lantern.yaml:5:60: error bad-value: `echo.mix`: `40` has no unit; this control is set in %
            help: write it like `40 %`
        """,
    ),
    Changed(
        "echo: cliff",
        "echo: {engage: on, mix: 08}",
        """
        lantern.yaml:5:60: error bad-value: `echo.mix`: `08` has no unit; this control is set in %
            help: write it like `8 %`
        """,
    ),
    Changed(
        "echo: cliff",
        "echo: {engage: on, mix: 40 ms}",
        """
        lantern.yaml:5:60: error bad-value: `echo.mix`: `40 ms` is in ms; this control is set in %
            help: write it like `40 %`
        """,
    ),
    Changed(
        "echo: cliff",
        "echo: {engage: on, mix: 40 percent}",
        """
        lantern.yaml:5:60: error bad-value: `echo.mix`: `40 percent` is no number in %
            help: write one such as `40 %`
        """,
    ),
    Changed(
        "echo: cliff",
        "echo: {engage: on, mix: 1e1 %}",
        """
        lantern.yaml:5:60: error bad-value: `echo.mix`: `1e1 %` is no number in %
            help: write one such as `1 %`
        """,
    ),
    Changed(
        "echo: cliff",
        "echo: {engage: on, mix: -5 %}",
        """
        lantern.yaml:5:60: error out-of-range: `echo.mix`: `-5 %` is out of range
            help: it goes from `0 %` to `100 %`
        """,
    ),
    Changed(
        "echo: cliff",
        "echo: {engage: on, mix: 140 %}",
        """
        lantern.yaml:5:60: error out-of-range: `echo.mix`: `140 %` is out of range
            help: it goes from `0 %` to `100 %`
        """,
    ),
    Changed(
        "echo: cliff",
        "echo: {engage: on, mix: 40,5 %}",
        """
        lantern.yaml:5:60: error yaml-syntax: `40,5 %` has a comma, which ends the value here
            help: write `40.5 %`
        """,
    ),
    Changed(
        "echo: cliff",
        "echo: {engage: on, mix: '40,5 %'}",
        """
        lantern.yaml:5:60: error bad-value: `echo.mix`: `40,5 %` is no number in %
            help: write one such as `40.5 %`
        """,
    ),
    Changed(
        "echo: cliff",
        "echo: {engage: on, time: 480}",
        """
        lantern.yaml:5:61: error bad-value: `echo.time`: `480` is no time
            help: write it like `480 ms`, `1.5 s`, `2 Hz`, `1/8`, `1/8 dotted` or `1/8 triplet`
        """,
    ),
    Changed(
        "echo: cliff",
        "echo: {engage: on, time: 1:05}",
        """
        lantern.yaml:5:61: error bad-value: `echo.time`: `1:05` is no time
            help: write it like `480 ms`, `1.5 s`, `2 Hz`, `1/8`, `1/8 dotted` or `1/8 triplet`
        """,
    ),
    Changed(
        "echo: cliff",
        "echo: {engage: on, time: 1/8 doted}",
        """
        lantern.yaml:5:61: error bad-value: `echo.time`: `1/8 doted` is no time
            help: write it like `480 ms`, `1.5 s`, `2 Hz`, `1/8`, `1/8 dotted` or `1/8 triplet`
        """,
    ),
    Changed(
        "echo: cliff",
        "gate-1.threshold: -38",
        """
        lantern.yaml:5:54: error bad-value: `gate-1.threshold`: `-38` has no unit; this control is set
            in dB
            help: write it like `-38 dB`
        """,
    ),
    Changed(
        "echo: cliff",
        "gate-1.threshold: 38 dB",
        """
        lantern.yaml:5:54: error out-of-range: `gate-1.threshold`: `38 dB` is out of range
            help: it goes from `-70 dB` to `-20 dB`
        """,
    ),
    Changed(
        "echo: cliff",
        "gate-1.threshold: -38 db",
        """
        lantern.yaml:5:54: error bad-value: `gate-1.threshold`: `-38 db` is no number in dB
            help: write one such as `-38 dB`
        """,
    ),
    Changed(
        "echo: cliff",
        "gate-1: on",
        """
        lantern.yaml:5:36: error unknown-name: `gate-1` has no main switch to turn on or off
            help: name one of its controls, or mark one `main: yes` in its definition
        """,
    ),
    Changed(
        "echo: cliff",
        "gate-1: tight",
        """
        lantern.yaml:5:44: error bad-value: `gate-1` has no programs: it takes a block of its controls
            help: to set a control, name it: `gate-1.threshold: tight`
        """,
    ),
    Changed(
        "echo: cliff",
        "echo.engage: yes",
        """
        lantern.yaml:5:49: error bad-value: `echo.engage`: `yes` is no value here
            help: known here as values: `off`, `on`
        """,
    ),
    Changed(
        "echo: cliff",
        "echo.engage: true",
        """
        lantern.yaml:5:49: error bad-value: `echo.engage`: `true` is no value here
            help: known here as values: `off`, `on`
        """,
    ),
    Changed(
        "echo: cliff",
        "echo: [cliff]",
        """
        lantern.yaml:5:42: error wrong-shape: a list is not a value
            help: write a value for `echo`
        """,
    ),
    Changed(
        "echo: cliff",
        "echo: home",
        """
        lantern.yaml:5:42: error bad-value: `home` is not for a whole device
            help: name the control: `echo.CONTROL: home`
        """,
    ),
    Changed(
        "at: bar 9",
        "at: bar9",
        """
        lantern.yaml:5:16: error bad-place: `bar9` is no place in a song
            help: write `bar 9`
        """,
    ),
    Changed(
        "at: bar 9",
        "at: Bar 9",
        """
        lantern.yaml:5:16: error bad-place: `Bar 9` is no place in a song
            help: write `bar 9`
        """,
    ),
    Changed(
        "at: bar 9",
        "at: 9",
        """
        lantern.yaml:5:16: error bad-place: `9` is no place in a song
            help: write `bar 9`
        """,
    ),
    Changed(
        "at: bar 9",
        "at: bar 0",
        """
        lantern.yaml:5:16: error bad-place: there is no `bar 0`: bars and beats count from 1
            help: write `bar 1` for the song's beginning
        """,
    ),
    Changed(
        "at: bar 9",
        "at: bar -1",
        """
        lantern.yaml:5:16: error bad-place: `bar -1` is no place in a song
            help: write `bar 17`, `bar 17 beat 3`, minutes:seconds, or hours:minutes:seconds:frames
        """,
    ),
    Changed(
        "at: bar 9",
        "at: bar 9 beat 5",
        """
        lantern.yaml:5:16: error bad-place: `bar 9 beat 5` is past the bar's end: it has 4 beats
            help: write beat 1 to 4, or the next bar
        """,
    ),
    Changed(
        "at: bar 9",
        "at: bar 9, beat 2",
        """
        lantern.yaml:5:23: error value-missing: `beat 2` stands alone after a comma: it has no value
            help: write `beat: 2`; if it belongs to the text before the comma, put the whole text in
                double quotes: `"..."`
        """,
    ),
    Changed(
        "at: bar 9",
        "at: the bridge",
        """
        lantern.yaml:5:16: error bad-place: `the bridge` is no place in a song
            help: write `bar 17`, `bar 17 beat 3`, minutes:seconds, or hours:minutes:seconds:frames
        """,
    ),
    Changed(
        "at: bar 9",
        "at: 1:65",
        """
        lantern.yaml:5:16: error bad-place: `1:65` is no place in a song
            help: write `bar 17`, `bar 17 beat 3`, minutes:seconds, or hours:minutes:seconds:frames
        """,
    ),
    Changed(
        "at: bar 9",
        "at: 1:00:00:00",
        """
        lantern.yaml:5:16: error bad-place: `1:00:00:00` is time code, and the song does not say where
            bar 1 stands in it
            help: give the song its `start` and `rate`
        """,
    ),
    Changed(
        "tempo: 120",
        "tempo: fast",
        """
        lantern.yaml:2:8: error wrong-shape: `fast` is not a number
            help: write a number for `tempo`
        """,
    ),
    Changed(
        "tempo: 120",
        "tempo: 120 bpm",
        """
        lantern.yaml:2:8: error wrong-shape: `120 bpm` is not a number
            help: write a number for `tempo`
        """,
    ),
    Changed(
        "tempo: 120",
        "tempo: 1e3",
        """
        lantern.yaml:2:8: error wrong-shape: `1e3` is not a number
            help: write a number for `tempo`
        """,
    ),
    Changed(
        "tempo: 120",
        "tempo: 120,5",
        """
        lantern.yaml:2:8: error wrong-shape: `120,5` is not a number
            help: write a number for `tempo`
        """,
    ),
    Changed(
        "tempo: 120",
        "tempo: -120",
        """
        lantern.yaml:2:8: error wrong-shape: `-120` is not a number
            help: write a number for `tempo`
        """,
    ),
    Changed(
        "tempo: 120",
        "tempo: 0",
        """
        lantern.yaml:2:8: error tempo-unsound: 0 is no tempo: it goes from 4 to 1000 quarter notes a
            minute
            help: write beats a minute
        """,
    ),
    Changed(
        "tempo: 120",
        "tempo: 120\nmeter: 4",
        """
        lantern.yaml:3:8: error wrong-shape: `4` is not a meter such as `4/4`
            help: write a meter such as `4/4` for `meter`
        """,
    ),
    Changed(
        "tempo: 120",
        "tempo: 120\nmeter: 4/3",
        """
        lantern.yaml:3:8: error tempo-unsound: `4/3` is no meter
            help: write it like `4/4` or `6/8`
        """,
    ),
    Changed(
        "tempo: 120",
        "tempo: 120\nmeter: 4:4",
        """
        lantern.yaml:3:8: error wrong-shape: `4:4` is not a meter such as `4/4`
            help: write a meter such as `4/4` for `meter`
        """,
    ),
)


@pytest.mark.parametrize("change", VALUES, ids=lambda change: change.new)
def test_a_wrong_value_brings_one_finding_that_says_how_to_write_it(change: Changed) -> None:
    assert seen_after(change) == block(change.seen)
