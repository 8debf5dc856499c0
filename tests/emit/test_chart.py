"""A definition as a MIDI Implementation Chart: rows, columns, and what the remarks say.

The rows are those of the chart that the MIDI 1.0 Detailed Specification publishes: from memory.
"""

from __future__ import annotations

import re

import pytest

from switchmatrix.emit.chart import chart
from tests.definition.kit import defined

NOTHING = "definition: deaf box\n"


def charted(text: str) -> list[str]:
    """The lines of a definition's chart."""
    return chart(defined(text)).splitlines()


def row(text: str, function: str) -> list[str]:
    """One function of a definition's chart: transmitted, recognised, and its remarks joined to one line."""
    lines = charted(text)
    starts = re.finditer(r"-+", lines[lines.index("") + 2])
    edges = [match.start() for match in starts]
    place = next(n for n, line in enumerate(lines) if line[: edges[1]].strip(" :") == function)
    below = [line[edges[3] :] for line in lines[place + 1 :] if line.startswith(" " * edges[3])]
    after = next(
        (n for n, line in enumerate(lines[place + 1 :]) if not line.startswith(" " * edges[3])), len(below)
    )
    remarks = [lines[place][edges[3] :], *below[:after]]
    cells = [lines[place][edges[n] : edges[n + 1]].strip() for n in (1, 2)]
    return [*cells, " ".join(remark.strip() for remark in remarks).strip()]


def test_whole_chart_of_a_small_box() -> None:
    text = """\
definition: small echo
gap: 2 ms
programs: {count: 100, first: 1, settle: 35 ms, repeat: recalls}
controls:
  engage: {kind: switch, cc: 80, main: yes}
  mix: {kind: level, cc: 21, range: [0 %, 100 %], codes: [0, 100], stored: yes}
"""
    assert (
        chart(defined(text))
        == """\
MIDI Implementation Chart: small echo
at least 2 ms between two messages to it

Function                      Transmitted  Recognised  Remarks
----------------------------  -----------  ----------  ------------------------------------------------
Basic Channel: Default        -            -
             : Changed        -            1-16        set at the box
Mode: Default                 -            -           mode 3 is taken, unless the rig says `omni: yes`
    : Messages                -            x
    : Altered                 -            x
Note Number                   -            x
           : True voice       -            x
Velocity: Note ON             -            x
        : Note OFF            -            x
Aftertouch: Key's             -            x
          : Channel's         -            x
Pitch Bend                    -            x
Control Change                -            o
              : 21 (15H)      -            o           mix: 0 % at 0, 100 % at 100; stored in patches
              : 80 (50H)      -            o           engage: on 127, off 0; main switch
Program Change                -            0-99        1 is program 0 on the wire; 100 is program 99 on
                                                         the wire
                                                       a recall takes 35 ms
                                                       the program it is in already recalls it again
              : True #        -            1 to 100    100, as the panel counts
System Exclusive              -            x
System Common: Song Position  -            x
             : Song Select    -            x
             : Tune Request   -            x
System Real Time: Clock       -            x
                : Commands    -            x
Aux Messages: Local ON/OFF    -            x
            : All Notes OFF   -            x
            : Active Sensing  -            x
            : System Reset    -            x

o: yes    x: not in this definition    -: a definition does not say
Mode 1: omni on, poly    Mode 2: omni on, mono    Mode 3: omni off, poly    Mode 4: omni off, mono
"""
    )


@pytest.mark.parametrize(
    ("control", "function", "says"),
    [
        (
            "kind: choice, cc: 30, values: {off: 0-63, on: 64-127}, send: {on: 127}",
            "30 (1EH)",
            "it: off 0-63 (sent as 32), on 64-127 (sent as 127)",
        ),
        ("kind: choice, cc: 30, values: {dry: 0, wet: 1}", "30 (1EH)", "it: dry 0, wet 1"),
        (
            "kind: level, cc: 7, range: [-60 dB, 6 dB], bottom: 0",
            "7 (07H)",
            "it: -inf dB at 0, -60 dB at 1, 6 dB at 127",
        ),
        (
            "kind: level, cc: 10, range: [-100 %, 100 %], centre: 64",
            "10 (0AH)",
            "it: -100 % at 0, 0 % at 64, 100 % at 127",
        ),
        ("kind: time, cc: 22, range: [0.1 Hz, 12.8 Hz]", "22 (16H)", "it: 0.1 Hz at 0, 12.8 Hz at 127"),
        ("kind: trigger, cc: 102, codes: {fire: 90}", "102 (66H)", "it: fires at 90"),
        (
            "kind: trigger, cc: 119, writes: yes",
            "119 (77H)",
            "it: fires at 127; writes memory: refused in scenes",
        ),
        (
            "kind: switch, cc: 81, toggle: {press: 127, release: 0}, powers-up: off",
            "81 (51H)",
            "it: each press flips it: 127, then 0, powers up off",
        ),
        (
            "kind: switch, cc: 81, toggle: {press: 127, release: none}, settle: 30 ms",
            "81 (51H)",
            "it: each press flips it: 127; takes 30 ms",
        ),
        ("kind: switch, cc: 11, moved-by: player", "11 (0BH)", "it: on 127, off 0; the player moves it"),
        (
            "kind: switch, cc: 12, hazard: mains relay",
            "12 (0CH)",
            "it: on 127, off 0; HAZARD, mains relay: never sent",
        ),
    ],
)
def test_a_controller_stands_by_its_number_with_what_it_does(control: str, function: str, says: str) -> None:
    assert row(f"definition: box\ncontrols: {{it: {{{control}}}}}\n", function) == ["-", "o", says]


PAIR = """\
definition: box
controls: {it: {kind: time, cc14: [12, 71], range: [0 ms, 2000 ms], codes: [0, 2000]}}
"""


@pytest.mark.parametrize(
    ("function", "says"),
    [
        ("12 (0CH)", "upper seven bits, CC 71 follows with the lower: it: 0 ms at 0, 2000 ms at 2000"),
        ("71 (47H)", "lower seven bits of it, after CC 12"),
    ],
)
def test_each_half_of_a_pair_names_the_other(function: str, says: str) -> None:
    assert row(PAIR, function) == ["-", "o", says]


PARAMETERS = """\
definition: box
controls:
  mix:   {kind: level, nrpn: [1, 8], data: 14, close: yes, range: [0 %, 100 %], also-cc: [21]}
  mode:  {kind: choice, nrpn: [1, 9], data: 7, values: {tape: 0, clean: 1}, resets: [mix]}
  pitch: {kind: level, rpn: [0, 1], data: 14, range: [-100 cents, 100 cents], centre: 8192}
"""


@pytest.mark.parametrize(
    ("function", "says"),
    [
        ("6 (06H)", "data of a parameter, first or only byte"),
        ("21 (15H)", "also moves mix; never sent"),
        ("38 (26H)", "data of a parameter, second byte"),
        ("98 (62H)", "NRPN number, lower half"),
        (
            "99 (63H)",
            "NRPN number, upper half, comes first "
            "NRPN 1, 8 with 14 bits of data, then the null number: mix: 0 % at 0, 100 % at 16383 "
            "NRPN 1, 9 with 7 bits of data: mode: tape 0, clean 1; reloads mix",
        ),
        ("100 (64H)", "RPN number, lower half"),
        (
            "101 (65H)",
            "RPN number, upper half, comes first RPN 0, 1 with 14 bits of data, then the null number: "
            "pitch: -100 cents at 0, 0 cents at 8192, 100 cents at 16383",
        ),
    ],
)
def test_parameters_stand_at_the_controllers_that_they_take(function: str, says: str) -> None:
    assert row(PARAMETERS, function) == ["-", "o", says]


def test_controllers_come_by_number() -> None:
    numbers = re.findall(r"^ +: (\d+) \(", "\n".join(charted(PARAMETERS)), flags=re.MULTILINE)
    assert numbers == ["6", "21", "38", "98", "99", "100", "101"]


NOTES = """\
definition: box
controls:
  buoy: {kind: trigger, note: 62, codes: {fire: 90}}
  bell: {kind: trigger, note: 61, release: yes}
  surf: {kind: choice, note: 48, values: {calm: 1-42, high: 43-127}}
"""


@pytest.mark.parametrize(
    ("function", "cells"),
    [
        (
            "Note Number",
            [
                "-",
                "48, 61-62",
                "48 (30H) surf: calm 1-42 (sent as 22), high 43-127 (sent as 85) "
                "61 (3DH) bell: fires at 127 62 (3EH) buoy: fires at 90",
            ],
        ),
        ("True voice", ["-", "48, 61-62", ""]),
        ("Velocity: Note ON", ["-", "o", "the codes are velocities"]),
        ("Note OFF", ["-", "o", "follows at once after 61"]),
    ],
)
def test_notes_stand_by_number_with_velocity_and_release(function: str, cells: list[str]) -> None:
    assert row(NOTES, function) == cells


def test_pressure_and_bend_stand_in_their_rows() -> None:
    text = """\
definition: box
controls:
  sweep: {kind: level, pitch-bend: yes, range: [-100 %, 100 %], centre: 8192}
  bite: {kind: level, channel-pressure: yes, range: [0 %, 100 %]}
"""
    assert [row(text, "Channel's"), row(text, "Pitch Bend"), row(text, "Aftertouch: Key's")] == [
        ["-", "o", "bite: 0 % at 0, 100 % at 127"],
        ["-", "o", "sweep: -100 % at 0, 0 % at 8192, 100 % at 16383"],
        ["-", "x", ""],
    ]


PANEL = """\
definition: box
programs:
  count: 420
  panel: {banks: A-G, slots: 1-60}
  bank: cc0
  bank-when: always
  repeat: nothing
  remap: {A5: B12}
  moved-by: player
"""


# 420 programs from 0 in banks of 128: the last is bank 3, program 419 - 384 = 35.
@pytest.mark.parametrize(
    ("function", "cells"),
    [
        ("0 (00H)", ["-", "o", "bank select: 0-3"]),
        (
            "Program Change",
            [
                "-",
                "0-127",
                "A1 is CC 0 0, program 0 on the wire; G60 is CC 0 3, program 35 on the wire "
                "bank select before every program; 128 programs in a bank "
                "the program it is in already does nothing remapped: A5 calls B12 "
                "the player calls programs too",
            ],
        ),
        ("True #", ["-", "A1 to G60", "420, as the panel counts"]),
    ],
)
def test_programs_have_their_range_on_the_panel_and_on_the_wire(function: str, cells: list[str]) -> None:
    assert row(PANEL, function) == cells


KITS = """\
definition: box
programs:
  {count: 300, first: 1, bank: both, bank-when: change, bank-size: 100, repeat: toggles it, channel: kits}
controls:
  it: {kind: switch, cc: 80}
  room: {kind: choice, program: yes, bank: 201, channel: kits, values: {dry: 100, wet: 101}}
"""


# Banks 0 to 2 hold programs; bank 201 of people is 200 on the wire, CC 0 1 and CC 32 72.
@pytest.mark.parametrize(
    ("function", "cells"),
    [
        ("Changed", ["-", "1-16", "2 channels, set at the box: kits, main"]),
        ("0 (00H)", ["-", "o", "bank select, upper half: 0-1"]),
        ("32 (20H)", ["-", "o", "bank select, lower half: 0-2, 72"]),
        ("80 (50H)", ["-", "o", "it: on 127, off 0; on the channel main"]),
        (
            "Program Change",
            [
                "-",
                "0-101",
                "1 is CC 0 0, CC 32 0, program 0 on the wire; 300 is CC 0 0, CC 32 2, program 99 on the wire "
                "bank select where the bank changes; 100 programs in a bank "
                "the program it is in already flips it on the channel kits "
                "after CC 0 1, CC 32 72, room: dry 100, wet 101; on the channel kits",
            ],
        ),
    ],
)
def test_banks_and_channels_are_said_where_they_count(function: str, cells: list[str]) -> None:
    assert row(KITS, function) == cells


def test_programs_of_a_control_alone_are_no_true_programs() -> None:
    text = "definition: box\ncontrols: {it: {kind: choice, program: yes, values: {clean: 0, lead: 2-3}}}\n"
    assert [row(text, "Program Change"), row(text, "True #")] == [
        ["-", "0, 2-3", "it: clean 0, lead 2-3 (sent as 3)"],
        ["-", "x", ""],
    ]


def test_system_exclusive_is_spelt_out_byte_by_byte() -> None:
    text = """\
definition: box
clock: yes
controls:
  tilt:
    kind: level
    sysex: {body: [0x7D, id, 0x12, 3, value, checksum], checksum: [4, 5], signed: yes}
    range: [-12 dB, 12 dB]
    codes: [40, 88]
  find: {kind: trigger, sysex: {body: [0x7D, id, 0x7E]}}
identity: {manufacturer: [0, 0x21, 0x09], family: 1, member: 2, version: [0, 0, 1, 0]}
"""
    assert [row(text, "System Exclusive"), row(text, "System Real Time: Clock")] == [
        [
            "o",
            "o",
            "tilt: -12 dB at 40, 12 dB at 88; F0 7D <id> 12 03 <value> <checksum> F7; "
            "the value is signed (two's complement); checksum over bytes 4 to 5 between F0 and F7 "
            "find: fires at 127; F0 7D <id> 7E F7 "
            "Identity Reply: maker 00 21 09, family 1, member 2, version 00 00 01 00",
        ],
        ["-", "o", "wants it at the song's tempo"],
    ]


def test_a_hazard_is_said_at_the_head() -> None:
    assert charted("definition: relay box\nhazard: mains relay\n")[:3] == [
        "MIDI Implementation Chart: relay box",
        "HAZARD, mains relay: nothing is compiled for it or sent to it",
        "",
    ]


def test_a_box_that_hears_nothing_recognises_only_a_channel() -> None:
    recognised = [line[43:53].strip() for line in charted(NOTHING)[4:-3]]
    assert sorted(set(recognised)) == ["-", "1-16", "x"]


def test_three_hundred_controls_have_a_line_each_by_number() -> None:
    controls = "".join(
        f"  knob {n}: {{kind: level, nrpn: [{n // 128}, {n % 128}], data: 7, range: [0, 10]}}\n"
        for n in range(300)
    )
    said = re.findall(
        r"NRPN (\d+), (\d+) with 7 bits of data: knob (\d+):",
        chart(defined(f"definition: big\ncontrols:\n{controls}")),
    )
    assert said == [(str(n // 128), str(n % 128), str(n)) for n in range(300)]


def test_no_line_of_a_long_list_of_words_is_wider_than_a_page() -> None:
    words = ", ".join(f"voice {n}: {n}" for n in range(128))
    lines = charted(f"definition: box\ncontrols: {{it: {{kind: choice, cc: 20, values: {{{words}}}}}}}\n")
    assert max(map(len, lines[3:])) <= 110
