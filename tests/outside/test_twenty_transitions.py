"""Transitions over every carrier and bank scheme, worked out by hand from the standard, as hex.

Each row is two transitions: from unknown to `verse`, and from there to `chorus`. The bytes are what the
compiler must send and what the simulator must understand: two that misread the standard alike would
agree with each other, and not with these. Pages are those of the MIDI 1.0 Detailed Specification 4.2.1
unless a row says otherwise. A channel's status bytes end in its number less one (Table I, p. T-1).
"""

from __future__ import annotations

from dataclasses import dataclass

import pytest

from switchmatrix.pipeline import Judged
from switchmatrix.simulate.receiver import receiver
from switchmatrix.simulate.standing import Halves
from switchmatrix.simulate.stream import heard
from switchmatrix.simulate.words import device_said
from tests.support import judged, timed


@dataclass(frozen=True, slots=True)
class Row:
    """A box `box` by its definition and its keys in the rig, and its lines in two scenes.

    `sent` are the bytes of both transitions, `stands` is where the box then stands.
    """

    definition: str
    device: str
    verse: str
    chorus: str
    sent: tuple[str, str]
    stands: tuple[str, str]

    def show(self) -> Judged:
        """The row as a show."""
        return judged(
            {
                "show.yaml": "show: Rows\nrigs: [rig]\nlegs: {tour: {rigs: [rig], setlist: [lantern]}}\n",
                "definitions/box.yaml": f"definition: box\n{self.definition}\n",
                "rigs/rig.yaml": (
                    "rig: R\nports: {rack: {out: rack, speed: din}}\n"
                    f"devices: {{box: {{port: rack, definition: box, {self.device}}}}}\n"
                    f"home: {{box: {{{self.verse}}}}}\n"
                ),
                "lantern.yaml": f"song: L\nscenes: {{verse: {{}}, chorus: {{box: {{{self.chorus}}}}}}}\n",
            },
            base=None,
        )


LEVEL = "controls: {it: {kind: level, range: [0, 127], "
WIDE = "controls: {it: {kind: level, range: [0, 16383], "
CALLS = "programs: {count: 2097152, first: 0, settle: 1 ms, repeat: recalls, bank: "

CARRIERS = {
    # Bn, controller, value (Table II, p. T-2).
    "a control change": Row(
        f"{LEVEL} cc: 21}}}}",
        *("channel: 1", "it: 64", "it: 127"),
        ("B0 15 40", "B0 15 7F"),
        ("it code 64", "it code 127"),
    ),
    # 64 is the damper: 0 is off and 127 is on (p. 12); channel 16 is nibble F.
    "a switch on channel 16": Row(
        "controls: {it: {kind: switch, cc: 64}}",
        *("channel: 16", "it: off", "it: on"),
        ("BF 40 00", "BF 40 7F"),
        ("it off", "it on"),
    ),
    # 8192 is 40 00; for a fine change the LSB is sent alone (p. 12).
    "fourteen bits, LSB alone": Row(
        f"{WIDE} cc14: [7, 39]}}}}",
        *("channel: 1", "it: 8192", "it: 8193"),
        ("B0 07 40 B0 27 00", "B0 27 01"),
        ("it code 8192", "it code 8193"),
    ),
    # 8320 is 65 * 128. The MSB sets the LSB to 0 (p. 12); not in every box (common practice), so it follows.
    "fourteen bits, MSB and LSB of 0": Row(
        f"{WIDE} cc14: [7, 39]}}}}",
        *("channel: 1", "it: 8193", "it: 8320"),
        ("B0 07 40 B0 27 01", "B0 07 41 B0 27 00"),
        ("it code 8193", "it code 8320"),
    ),
    # An LSB elsewhere than 32 above is common practice: 3330 is 26 * 128 + 2, 10000 is 78 * 128 + 16.
    "fourteen bits on any pair": Row(
        f"{WIDE} cc14: [13, 71]}}}}",
        *("channel: 5", "it: 3330", "it: 10000"),
        ("B4 0D 1A B4 47 02", "B4 0D 4E B4 47 10"),
        ("it code 3330", "it code 10000"),
    ),
    # NRPN: 99 and 98 are its number, 6 its data (p. 17-18, Table III on p. T-3).
    "a non-registered parameter of seven bits": Row(
        f"{LEVEL} nrpn: [1, 8], data: 7}}}}",
        *("channel: 2", "it: 64", "it: 65"),
        ("B1 63 01 B1 62 08 B1 06 40", "B1 63 01 B1 62 08 B1 06 41"),
        ("it code 64", "it code 65"),
    ),
    # 6 and 38 are the data; 7F 7F is the null parameter (p. 18). 200 is 1 * 128 + 72.
    "a non-registered parameter of fourteen bits, closed": Row(
        f"{WIDE} nrpn: [1, 8], data: 14, close: yes}}}}",
        *("channel: 2", "it: 200", "it: 16383"),
        (
            "B1 63 01 B1 62 08 B1 06 01 B1 26 48 B1 63 7F B1 62 7F",
            "B1 63 01 B1 62 08 B1 06 7F B1 26 7F B1 63 7F B1 62 7F",
        ),
        ("it code 200", "it code 16383"),
    ),
    # RPN 00 00 is pitch bend sensitivity, its MSB semitones, its LSB cents (Table IIIa, p. T-4): 2 and 12.
    "pitch bend sensitivity": Row(
        "controls: {it: {kind: level, rpn: [0, 0], data: 14, range: [0 semitones, 24 semitones], "
        "codes: [0, 3072]}}",
        *("channel: 1", "it: 2 semitones", "it: 12 semitones"),
        (
            "B0 65 00 B0 64 00 B0 06 02 B0 26 00 B0 65 7F B0 64 7F",
            "B0 65 00 B0 64 00 B0 06 0C B0 26 00 B0 65 7F B0 64 7F",
        ),
        ("it code 256", "it code 1536"),
    ),
    # RPN 00 02 is coarse tuning, MSB only; 40 is A 440 (Table IIIa, p. T-4).
    "coarse tuning": Row(
        "controls: {it: {kind: level, rpn: [0, 2], data: 7, range: [-64 semitones, 63 semitones]}}",
        *("channel: 1", "it: 0 semitones", "it: -2 semitones"),
        ("B0 65 00 B0 64 02 B0 06 40 B0 65 7F B0 64 7F", "B0 65 00 B0 64 02 B0 06 3E B0 65 7F B0 64 7F"),
        ("it code 64", "it code 62"),
    ),
    # Cn and one byte (Table II, p. T-2).
    "a program change that carries a control": Row(
        "controls: {it: {kind: choice, program: yes, values: {left: 5, right: 6}}}",
        *("channel: 4", "it: left", "it: right"),
        ("C3 05", "C3 06"),
        ("it left", "it right"),
    ),
    # 9n key velocity; 8n lets it go, 40 where the sender has no release velocity (p. 10).
    "a note, let go": Row(
        "controls: {it: {kind: choice, note: 60, release: yes, values: {soft: 1, hard: 127}}}",
        *("channel: 10", "it: soft", "it: hard"),
        ("99 3C 01 89 3C 40", "99 3C 7F 89 3C 40"),
        ("it soft", "it hard"),
    ),
    # En, LSB first: 00 40 is the centre, 7F 7F the highest (p. 19).
    "pitch bend": Row(
        "controls: {it: {kind: level, pitch-bend: yes, range: [-100 %, 100 %], centre: 8192}}",
        *("channel: 1", "it: 0 %", "it: 100 %"),
        ("E0 00 40", "E0 7F 7F"),
        ("it code 8192", "it code 16383"),
    ),
    # Dn and one byte (Table II, p. T-2).
    "channel pressure": Row(
        f"{LEVEL} channel-pressure: yes}}}}",
        *("channel: 3", "it: 0", "it: 127"),
        ("D2 00", "D2 7F"),
        ("it code 0", "it code 127"),
    ),
    # Master Volume is F0 7F id 04 01 LSB MSB F7 (p. 57).
    "system exclusive, two bytes": Row(
        f"{WIDE} sysex: {{body: [0x7F, id, 0x04, 0x01, value-lsb, value-msb]}}}}}}",
        *("channel: 1, id: 5", "it: 8192", "it: 8193"),
        ("F0 7F 05 04 01 00 40 F7", "F0 7F 05 04 01 01 40 F7"),
        ("it code 8192", "it code 8193"),
    ),
    # The checksum makes the sum of its bytes end in seven zero bits (MMA RP-050, section 2.3.2): 12 + 40 + 2E
    # is 80, and 12 + 6E is 80 already.
    "system exclusive with a checksum": Row(
        f"{LEVEL} sysex: {{body: [0x7D, id, 0x12, value, checksum], checksum: [3, 4]}}}}}}",
        *("channel: 1, id: 16", "it: 64", "it: 110"),
        ("F0 7D 10 12 40 2E F7", "F0 7D 10 12 6E 00 F7"),
        ("it code 64", "it code 110"),
    ),
    # Two's complement in fourteen bits, as for the bar of a bar marker (p. 54): -1 is 7F 7F, 1 is 01 00.
    "system exclusive, signed": Row(
        "controls: {it: {kind: level, range: [-8192, 8191], sysex: "
        "{body: [0x7D, 2, value-lsb, value-msb], signed: yes}}}",
        *("channel: 1", "it: -1", "it: 1"),
        ("F0 7D 02 7F 7F F7", "F0 7D 02 01 00 F7"),
        ("it code 8191", "it code 8193"),
    ),
    # A press flips it and its release does nothing (common practice): off as it powers up, nothing is sent.
    "a switch that is flipped": Row(
        "controls: {it: {kind: switch, cc: 90, toggle: {press: 127, release: 0}, powers-up: off}}",
        *("channel: 1", "it: off", "it: on"),
        ("", "B0 5A 7F B0 5A 00"),
        ("it off", "it on"),
    ),
    # The mode reloads the time, which is then sent again: 300 is 2 * 128 + 44.
    "a choice that resets": Row(
        "controls:\n"
        "  it: {kind: choice, cc: 30, values: {tape: 0, clean: 1}, resets: [time]}\n"
        "  time: {kind: level, cc14: [12, 44], range: [0, 16383]}",
        *("channel: 1", "it: tape, time: 300", "it: clean"),
        ("B0 1E 00 B0 0C 02 B0 2C 2C", "B0 1E 01 B0 0C 02 B0 2C 2C"),
        ("it tape, time code 300", "it clean, time code 300"),
    ),
}
"""Every carrier."""

BANKS = {
    # Programs are numbered from 00 on the wire (p. 18): panel 4 is 03, panel 17 is 10.
    "no bank select": Row(
        "programs: {count: 128, first: 1, settle: 1 ms, repeat: recalls}",
        *("channel: 3, patches: {slap: 4, cliff: 17}", "patch: slap", "patch: cliff"),
        ("C2 03", "C2 10"),
        ("patch slap", "patch cliff"),
    ),
    # CC 0 goes before the program change that it is for (p. 13): program 133 is the sixth of bank 2.
    "CC 0 alone, another bank": Row(
        f"{CALLS} cc0, bank-when: change}}".replace("2097152", "16384"),
        *("channel: 1, patches: {slap: 4, cliff: 133}", "patch: slap", "patch: cliff"),
        ("B0 00 00 C0 04", "B0 00 01 C0 05"),
        ("patch slap", "patch cliff"),
    ),
    # The bank holds for the programs that follow (p. 13).
    "CC 0 alone, the same bank": Row(
        f"{CALLS} cc0, bank-when: change}}".replace("2097152", "16384"),
        *("channel: 1, patches: {slap: 132, cliff: 133}", "patch: slap", "patch: cliff"),
        ("B0 00 01 C0 04", "C0 05"),
        ("patch slap", "patch cliff"),
    ),
    # A box that wants it every time, with banks of a hundred (common practice): 105 is the sixth of bank 2.
    "CC 32 alone, always, banks of a hundred": Row(
        "programs: {count: 300, first: 0, bank: cc32, bank-when: always, bank-size: 100, settle: 1 ms, "
        "repeat: recalls}",
        *("channel: 2, patches: {slap: 104, cliff: 105}", "patch: slap", "patch: cliff"),
        ("B1 20 01 C1 04", "B1 20 01 C1 05"),
        ("patch slap", "patch cliff"),
    ),
    # Bank 1 is 00 00 and bank 129 is 01 00 (p. 14); both halves go, CC 0 first (p. 13).
    "CC 0 and CC 32, bank 129": Row(
        f"{CALLS} both, bank-when: change}}",
        *("channel: 1, patches: {slap: 0, cliff: 16384}", "patch: slap", "patch: cliff"),
        ("B0 00 00 B0 20 00 C0 00", "B0 00 01 B0 20 00 C0 00"),
        ("patch slap", "patch cliff"),
    ),
    # The worked message of MIDI-CI ProgramList 1.01 (M2-107-UM), 2.3: MSB 121, LSB 2, program 49.
    "CC 0 and CC 32, the worked message": Row(
        f"{CALLS} both, bank-when: change}}",
        *("channel: 1, patches: {slap: 0, cliff: {bank: 15491, program: 50}}", "patch: slap", "patch: cliff"),
        ("B0 00 00 B0 20 00 C0 00", "B0 00 79 B0 20 02 C0 31"),
        ("patch slap", "patch cliff"),
    ),
    # The bank is chosen on the channel that calls programs (p. 13), here 11; the level listens on 10.
    "programs on a channel of their own": Row(
        f"{CALLS} both, bank-when: always, channel: kits}}\n"
        "controls: {level: {kind: level, cc: 7, range: [0, 127]}}",
        *(
            "channels: {main: 10, kits: 11}, patches: {slap: 0, cliff: 128}",
            "patch: slap, level: 90",
            "patch: cliff, level: 91",
        ),
        ("BA 00 00 BA 20 00 CA 00 B9 07 5A", "BA 00 00 BA 20 01 CA 00 B9 07 5B"),
        ("patch slap, level code 90", "patch cliff, level code 91"),
    ),
    # A control among the programs states its bank: bank 3 is 02 (p. 14). The patch's own bank is said again.
    "a control in a bank of its own": Row(
        f"{CALLS} cc0, bank-when: change}}\n".replace("2097152", "256")
        + "controls: {scale: {kind: choice, program: yes, bank: 3, values: {equal: 5, pure: 6}}}",
        *(
            "channel: 1, patches: {slap: 4, cliff: 5}",
            "patch: slap, scale: equal",
            "patch: cliff, scale: pure",
        ),
        ("B0 00 00 C0 04 B0 00 02 C0 05", "B0 00 00 C0 05 B0 00 02 C0 06"),
        ("patch slap, scale equal", "patch cliff, scale pure"),
    ),
    # Edited, then called again: a patch brings its own values back (p. 18-19), sent before what edits it.
    "a recall before an edit": Row(
        "programs: {count: 128, first: 0, settle: 1 ms, repeat: recalls}\n"
        "controls: {mix: {kind: level, cc: 21, range: [0, 127], stored: yes}}",
        *("channel: 1, patches: {slap: 4, cliff: 5}", "patch: slap", "patch: cliff, mix: 30"),
        ("C0 04", "C0 05 B0 15 1E"),
        ("patch slap, mix as slap stores it", "patch cliff, mix code 30"),
    ),
}
"""Every bank scheme."""

ROWS = CARRIERS | BANKS
by_name = pytest.mark.parametrize("name", ROWS)


def sent(show: Judged, scene: str, after: str | None) -> str:
    """The bytes of a transition as hex."""
    return b"".join(m.step.data for m in timed(show, "lantern", scene, after)).hex(" ").upper()


@by_name
def test_what_is_sent_is_what_the_standard_says(name: str) -> None:
    show = ROWS[name].show()
    assert (sent(show, "verse", None), sent(show, "chorus", "verse")) == ROWS[name].sent


@pytest.mark.parametrize("halves", Halves)
@by_name
def test_what_the_simulator_hears_is_what_the_standard_says(name: str, halves: Halves) -> None:
    row = ROWS[name]
    device = row.show().worked_out.rigs[0].devices[0]
    one = receiver(device, halves)
    found = one.unit.start().controls
    controls = enumerate(device.definition.controls)
    off = [0 if control.toggle is not None else found[n] for n, control in controls]
    verse = one.hear(one.unit.start(controls=off), heard(bytes.fromhex(row.sent[0])))
    chorus = one.hear(verse, heard(bytes.fromhex(row.sent[1])))
    stands = [", ".join(map(" ".join, device_said(one.unit, now))) for now in (verse, chorus)]
    assert tuple(stands) == row.stands


def test_every_row_is_two_transitions_and_no_two_rows_are_the_same() -> None:
    assert len({row.sent for row in ROWS.values()}) == len(ROWS) == 27
