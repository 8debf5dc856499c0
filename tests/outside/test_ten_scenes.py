"""Scenes of the example show whose bytes were worked out by hand, from the show's files and the standard.

Bn is a control change and Cn a program change, n the channel less one (MIDI 1.0 Detailed Specification
4.2.1, Table I, p. T-1); programs count from 0 on the wire (p. 18). Codes are the nearest, halves up.
Each test looks at the devices that it names, in the first leg, and leaves triggers out.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from switchmatrix.pipeline import Judged, judge
from tests.support import timed


@pytest.fixture(scope="module")
def show() -> Judged:
    """The example show."""
    return judge(Path(__file__).parents[2] / "songs")


def bytes_to(show: Judged, rig: str, device: str, song: str, scene: str, after: str | None) -> list[str]:
    """What the device is sent, in order, a message a text."""
    messages = timed(show, song, scene, after, rig)
    return [m.step.data.hex(" ").upper() for m in messages if m.step.device == device]


# 1. A rig, Nine Lanterns, `lamplight` from unknown: `gate: open` takes both gates out; what `loose` at
# home said of their knobs stays.
LAMPLIGHT = {
    # Channel 2. -55 dB is 15 of the 50 dB from -70 to -20: code 30 of 100. 248 ms at 4 ms a code: 62.
    "gate-1": ["B1 50 00", "B1 14 1E", "B1 15 3E"],
    # Channel 3. -58 dB is 12 of 50 dB: 24 = 18h. 300 ms at 4 ms a code: 75 = 4Bh.
    "gate-2": ["B2 50 00", "B2 14 18", "B2 15 4B"],
    # Channel 6. slap is panel 4 from 1: program 3. It recalls all that it stores, so only engage follows.
    "echo": ["C5 03", "B5 50 7F"],
    # Channel 7. tiled-room is panel 0 from 0. The box may be in it already, and then does nothing, so all
    # follows: on; 20 % of 127 is 25.4, 25 = 19h; 0.9 s at 0.1 s a code: 9; 8 ms at 2 ms a code: 4.
    "reverb": ["C6 00", "B6 50 7F", "B6 14 19", "B6 15 09", "B6 16 04"],
}

# 2. A rig, Nine Lanterns, `chorus` after `verse`; 96 a minute is 625 ms a quarter note.
CHORUS = {
    # Channel 6. cliff is panel 17: program 16. An eighth dotted, 468.75 ms at 10 ms a code: 46.9, 47 = 2Fh.
    # Repeats and tone are as cliff stores them.
    "echo": ["C5 10", "B5 50 7F", "B5 14 2F"],
    # Channel 15. It is in long-tide since home; on; a quarter dotted, 937.5 ms at 20 ms a code: 46.9, 47.
    "delay": ["BE 50 7F", "BE 14 2F"],
    # Channel 7. long-hall is panel 12 from 0, surely another patch; its mix is the word's: 28 %.
    "reverb": ["C6 0C", "B6 50 7F"],
    # Channel 9. Send 1 (CC 24): -6 dB, between -20 dB at 60 and 0 dB at 100: 88 = 58h. The rest stands.
    "mixer": ["B8 18 58"],
    # Channel 11. grit is the patch dirt, panel 2: program 1.
    "switcher": ["CA 01"],
    # Channel 13. On; 3.5 of 10 in 127 codes: 44.45, 44 = 2Ch (home's 3 is 38). The voice is soft already.
    "fuzz": ["BC 50 7F", "BC 14 2C"],
}

# 3. A rig, Harbour Bell, `mooring` from unknown, on the mandola.
MOORING = {
    # Channel 1. Trim 3 dB: a quarter of the 63 codes from 64 at 0 dB to 127 at 12 dB: 79.75, 80 = 50h.
    # Then out-a on in-3, code 2, and out-b on in-4, code 3.
    "selector": ["B0 16 50", "B0 14 02", "B0 15 03"],
    # Channel 11. bright is lift, panel 3: program 2; it stores all four loops. The buffer (CC 85) is on.
    "switcher": ["CA 02", "BA 55 7F"],
    # Channel 8. harbour is panel 1: program 0. -14 dB is 26 of 46 dB over the codes 1-127:
    # 1 + 26 * 126 / 46 = 72.2, 72 = 48h (harbour stores -10 dB). The bed is on.
    "sampler": ["C7 00", "B7 14 48", "B7 50 7F"],
    # Channel 14. slow-swirl at home, panel 2: program 1. It may be in it already and then flips its switch,
    # so all follows: off; 0.5 Hz at 0.05 Hz a code from 0.05: 9; 35 % of 127 is 44.45, 44 = 2Ch; 0 cents
    # is the centre, 64 = 40h.
    "modulation": ["CD 01", "BD 50 00", "BD 14 09", "BD 15 2C", "BD 16 40"],
}

# 4. A rig, Harbour Bell, `toll` after `mooring`.
TOLL = {
    # well is panel 22: program 21 = 15h.
    "echo": ["C5 15", "B5 50 7F"],
    # sea-cave is panel 31 from 0: 1Fh. It stores the 45 % that `sea` asks for; the box is on already.
    "reverb": ["C6 1F"],
    # in-4 (CC 23) -4 dB: 100 - 8 = 92 = 5Ch. send-1 (CC 24) -9 dB: 100 - 18 = 82 = 52h.
    "mixer": ["B8 17 5C", "B8 18 52"],
    # As mooring has it.
    "sampler": [],
}

# 5. A rig, Wreckers' Reel, `reel` the second time, after `stamp` the first time.
REEL_2 = {
    # slap is in since home, 120 ms. On; at 126 dotted quarters an eighth is a third of 476.19 ms,
    # 158.73 ms at 10 ms a code: 15.9, 16 = 10h.
    "echo": ["B5 50 7F", "B5 14 10"],
    # From stack back to home's long-tide, panel 8: program 7; off. Its time is as stored again.
    "delay": ["CE 07", "BE 50 00"],
    # Channel 5. A-edge has amp 2 clean: program 0 carries it. The boost stands off.
    "amp-2": ["C4 00"],
    # A-edge: in-1 -2 dB, 96 = 60h; in-2 -inf dB, its bottom 0. in-3 is home's -12 dB: 76 = 4Ch.
    # send-1 -10 dB: 80 = 50h.
    "mixer": ["B8 14 60", "B8 15 00", "B8 16 4C", "B8 18 50"],
}

# 6. A rig, Storm Glass, `wreck` after `squall`; 90 a minute is 666.67 ms a quarter note.
WRECK = {
    # From stack to long-tide, program 7; a half, 1333.33 ms at 20 ms a code: 66.7, 67 = 43h. On already.
    "delay": ["CE 07", "BE 14 43"],
    # Channel 4. B and B-lead have amp 1 clean; the solo's boost (CC 81) is on.
    "amp-1": ["B3 51 7F"],
    # Channel 5. lead is program 2; the boost (CC 80) is on.
    "amp-2": ["C4 02", "B4 50 7F"],
    # in-2 -1 dB: 98 = 62h. The master (CC 26) at 2 dB: two codes a dB from 1 at -40 dB: 85 = 55h.
    "mixer": ["B8 15 62", "B8 1A 55"],
    # Channel 12. Engage is the player's, and unknown; the scene names it: on. low is code 1. No sweep.
    "wah": ["BB 50 7F", "BB 15 01"],
}

# 7. A rig, Salt Stairs, `stair foot` from unknown. This rig's own change makes the song's gate tight.
STAIR_FOOT = {
    # -38 dB is 32 of 50 dB: 64 = 40h. 60 ms at 4 ms a code: 15.
    "gate-1": ["B1 50 7F", "B1 14 40", "B1 15 0F"],
    # -42 dB is 28 of 50 dB: 56 = 38h. 80 ms: 20 = 14h.
    "gate-2": ["B2 50 7F", "B2 14 38", "B2 15 14"],
    # As at the mooring, but on, and a turn each quarter note: 72 a minute is 1.2 Hz, 1.15 Hz above 0.05 at
    # 0.05 Hz a code: 23 = 17h.
    "modulation": ["CD 01", "BD 50 7F", "BD 14 17", "BD 15 2C", "BD 16 40"],
    # Two codes a dB from 100 at 0 dB down to -20 dB: in-1 0 dB 64h; in-2 -inf dB 0; in-3 and in-4 -10 dB,
    # 80 = 50h; send-1 -18 dB, 64 = 40h; pan 0 % its centre 64; master 0 dB, 81 = 51h; mute (CC 102) off.
    "mixer": [
        "B8 14 64",
        "B8 15 00",
        "B8 16 50",
        "B8 17 50",
        "B8 18 40",
        "B8 19 40",
        "B8 1A 51",
        "B8 66 00",
    ],
}

# 8. A rig, Fog Signal, `answer` after `signal`: it has a tempo of its own, 66 a minute.
ANSWER = {
    # A quarter dotted, 1363.6 ms at 20 ms a code: 68.2, 68 = 44h. The feedback was 60 %; as long-tide
    # stores it, 35 of 110 % in 127 codes: 40.4, 40 = 28h, is sent by its own message.
    "delay": ["BE 14 44", "BE 15 28"],
    # A-edge: edge is the codes 43-84, sent as their middle, 63.5, halves up 64 = 40h.
    "amp-1": ["B3 50 40"],
}

# 9. A rig, The Keeper's Log, `second hand` after `blot`, where the repeats were frozen.
SECOND_HAND_A = {
    # Off; the mix was 45 %, and as home's long-tide stores it is 30 %: 38.1, 38 = 26h; freeze (CC 81) off.
    "delay": ["BE 50 00", "BE 16 26", "BE 51 00"],
    # From the upright's in-5 and -4.5 dB to the baritone: 0 dB is the centre 64 = 40h; in-1 is 0, in-2 is 1.
    "selector": ["B0 16 40", "B0 14 00", "B0 15 01"],
}

# 10. B rig, Nine Lanterns, `chorus` after `verse`: cliff with long-hall is one patch of the unit, D3.
CHORUS_B = {
    "multi": [
        "C1 1A",  # channel 2: D3 is panel 27 from 1: program 26
        # D3 does not list the sections, so all eight are sent, whatever they were.
        "B1 50 7F",  # section 1, drive: grit
        "B1 51 00",  # section 2, compressor: off with grit
        "B1 52 7F",  # section 3, long delay: on
        "B1 53 7F",  # section 4, echo: on
        "B1 55 7F",  # section 5, dark filter: on, says the joint row
        "B1 56 7F",  # section 6, reverb: on, says `hall`
        "B1 57 00",  # section 7, swirl: home's `still`
        "B1 59 00",  # section 8, treble lift: off with grit
        # No patch moves the gate, and both scenes have it tight.
        "B1 16 2C",  # drive gain 3.5 of 10: 44.45, 44
        "B1 18 55",  # echo level -6 dB: two codes a dB from 1 at -48 dB: 85
        "B1 17 2F",  # echo time 468.75 ms at 10 ms a code: 47 (D3 stores 480 ms)
        # Echo repeats are as D3 stores them.
        "B1 1A 2F",  # delay time 937.5 ms at 20 ms a code: 47
        "B1 1B 28",  # delay repeats 35 of 110 %: 40.4, 40
        "B1 1C 26",  # delay mix 30 %: 38.1, 38
        "B1 1D 01",  # reverb type: hall
        # The reverb's mix, 28 %, and its decay are as D3 stores them.
        "B1 66 09",  # swirl rate 0.5 Hz: 9
        "B1 67 2C",  # swirl depth 35 %: 44.45, 44
        # The direct output is as D3 stores it.
    ],
    # Channel 9. On this rig the echo's send is inside the unit, and amp and direct line stand.
    "mixer": [],
}

# 11. B rig, Harbour Bell, `toll` from unknown. No joint row has well: C4, the reverb's type over it.
TOLL_B = {
    "multi": [
        "C1 13",  # C4 is panel 20: program 19
        "B1 50 00",  # section 1, drive: off with bright
        "B1 51 00",  # section 2, compressor: off with bright
        "B1 52 00",  # section 3, long delay: home has it off
        "B1 53 7F",  # section 4, echo: on
        "B1 55 00",  # section 5, dark filter: home has it off
        "B1 56 7F",  # section 6, reverb: on
        "B1 57 00",  # section 7, swirl: off
        "B1 59 7F",  # section 8, treble lift: bright
        "B1 5A 7F",  # gate: loose has it on
        "B1 14 1E",  # gate threshold -55 dB: 15 of 50 dB, 30 of 100
        "B1 15 3E",  # gate release 248 ms at 4 ms a code: 62
        "B1 16 26",  # drive gain: home's 3 of 10, 38.1, 38
        "B1 18 4F",  # echo level -9 dB: 1 + 2 * 39 = 79
        "B1 69 50",  # output 0 dB: four codes a dB from 0 at -20 dB: 80
        # Echo time and repeats are as C4 stores them.
        "B1 1A 29",  # delay time: home's long-tide is 820 ms, 41
        "B1 1B 28",  # delay repeats 35 of 110 %: 40
        "B1 1C 26",  # delay mix 30 %: 38
        "B1 1D 02",  # reverb type: cave
        "B1 1E 39",  # reverb mix 45 %: 57.15, 57 (C4 stores 20 %)
        # The decay is as C4 stores it.
        "B1 66 09",  # swirl rate: home's slow-swirl, 0.5 Hz
        "B1 67 2C",  # swirl depth 35 %
    ],
    # Channel 5. clean is program 0; boost off; depth 4 of 10: 50.8, 51 = 33h.
    "combo": ["C4 00", "B4 50 00", "B4 14 33"],
    # in-1 0 dB; in-2 -inf dB; in-3 -8 dB, 84 = 54h; in-4 -4 dB, 92 = 5Ch; send-1 -inf dB; pan in the
    # centre; master 0 dB, 81 = 51h; mute off.
    "mixer": [
        "B8 14 64",
        "B8 15 00",
        "B8 16 54",
        "B8 17 5C",
        "B8 18 00",
        "B8 19 40",
        "B8 1A 51",
        "B8 66 00",
    ],
}

# 12. B rig, Storm Glass, `squall` from unknown: cliff with sea-cave is D4; this rig's own change turns the
# unit down. 90 a minute is 666.67 ms a quarter note.
SQUALL_B = {
    "multi": [
        "C1 1B",  # D4 is panel 28: program 27
        "B1 50 7F",  # section 1, drive: wall
        "B1 51 00",  # section 2, compressor: off with wall
        "B1 52 7F",  # section 3, long delay: on since `falling`
        "B1 53 7F",  # section 4, echo: on
        "B1 55 7F",  # section 5, dark filter: on, says the joint row
        "B1 56 7F",  # section 6, reverb: on
        "B1 57 7F",  # section 7, swirl: seasick turns it on
        "B1 59 00",  # section 8, treble lift: off with wall
        "B1 5A 7F",  # gate: tight has it on
        "B1 14 3C",  # gate threshold -40 dB: 30 of 50 dB, 60 of 100
        "B1 15 0F",  # gate release 60 ms: 15
        "B1 16 66",  # drive gain 8 of 10: 101.6, 102
        "B1 18 57",  # echo level -5 dB: 1 + 2 * 43 = 87
        "B1 69 44",  # output -3 dB: 4 * 17 = 68
        "B1 17 32",  # echo time, an eighth dotted: 500 ms, 50 (D4 stores 480 ms)
        # Echo repeats are as D4 stores them.
        "B1 1A 21",  # delay time, a quarter: 666.67 ms at 20 ms a code, 33.3, 33
        "B1 1B 17",  # delay repeats, stack's 20 of 110 %: 23.1, 23
        "B1 1C 20",  # delay mix, stack's 25 %: 31.75, 32
        "B1 1D 02",  # reverb type: cave
        # The reverb's mix, 45 %, its decay and the direct output are as D4 stores them.
        "B1 66 3F",  # swirl rate 3.2 Hz: 3.15 above 0.05, 63
        "B1 67 66",  # swirl depth 80 %: 101.6, 102
    ],
}

# 13. B rig, The Keeper's Log, `second hand` after `blot`: both have home's slap, so no patch is called.
SECOND_HAND_B = {
    "multi": [
        "B1 52 00",  # section 3, long delay: home has it off
        "B1 57 7F",  # section 7, swirl: on with slow
        "B1 5A 7F",  # gate: on again with loose; its knobs stand at loose since home
        "B1 16 26",  # drive gain: body had 2, home has 3 of 10: 38.1, 38
        "B1 1B 28",  # delay repeats: from the 88 % of `freeze: on` to long-tide's 35 of 110 %: 40.4, 40
        "B1 1C 26",  # delay mix: from 45 % back to long-tide's 30 %: 38.1, 38
        "B1 1D 01",  # reverb type: from cave to hall
        "B1 1E 24",  # reverb mix: from 45 % to 28 %: 35.56, 36
        "B1 67 40",  # swirl depth 50 %: 63.5, halves up 64
    ],
    # Channel 5. B is crunch: program 1; the boost of the solo goes off; the depth stands.
    "combo": ["C4 01", "B4 50 00"],
    # Channel 9. in-1 is at 0 dB for A and for B; in-3 from -16 dB to home's -12 dB: 76 = 4Ch; the master
    # from 2 dB to 0 dB: 81 = 51h.
    "mixer": ["B8 16 4C", "B8 1A 51"],
    # Channel 1. The baritone: 0 dB is the centre; in-1, in-2.
    "selector": ["B0 16 40", "B0 14 00", "B0 15 01"],
}

SCENES = [
    ("a-rig", "nine-lanterns", "lamplight", None, LAMPLIGHT),
    ("a-rig", "nine-lanterns", "chorus", "verse", CHORUS),
    ("a-rig", "harbour-bell", "mooring", None, MOORING),
    ("a-rig", "harbour-bell", "toll", "mooring", TOLL),
    ("a-rig", "wreckers-reel", "reel@2", "stamp", REEL_2),
    ("a-rig", "storm-glass", "wreck", "squall", WRECK),
    ("a-rig", "salt-stairs", "stair foot", None, STAIR_FOOT),
    ("a-rig", "fog-signal", "answer", "signal", ANSWER),
    ("a-rig", "keepers-log", "second hand", "blot", SECOND_HAND_A),
    ("b-rig", "nine-lanterns", "chorus", "verse", CHORUS_B),
    ("b-rig", "harbour-bell", "toll", None, TOLL_B),
    ("b-rig", "storm-glass", "squall", None, SQUALL_B),
    ("b-rig", "keepers-log", "second hand", "blot", SECOND_HAND_B),
]


@pytest.mark.parametrize(("rig", "song", "scene", "after", "by_hand"), SCENES)
def test_scene_is_sent_as_the_bytes_worked_out_by_hand(
    show: Judged, rig: str, song: str, scene: str, after: str | None, by_hand: dict[str, list[str]]
) -> None:
    assert {device: bytes_to(show, rig, device, song, scene, after) for device in by_hand} == by_hand
