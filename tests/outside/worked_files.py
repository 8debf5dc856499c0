"""The two worked files of the Standard MIDI File document (MMA RP-001, revised February 1996), as hex."""

from __future__ import annotations

FORMAT_0 = """
    4D 54 68 64  00 00 00 06  ; MThd, six bytes follow
    00 00  00 01  00 60       ; format 0, one track, 96 ticks a quarter note
    4D 54 72 6B  00 00 00 3B  ; MTrk, 59 bytes follow
    00 FF 58 04 04 02 18 08   ; 4/4, a click each 24 clocks, eight 32nds a quarter note
    00 FF 51 03 07 A1 20      ; 500,000 microseconds a quarter note
    00 C0 05                  ; channel 1: program 5
    00 C1 2E                  ; channel 2: program 46
    00 C2 46                  ; channel 3: program 70
    00 92 30 60               ; channel 3: note on 48
    00 3C 60                  ; channel 3, running status: note on 60
    60 91 43 40               ; 96 ticks on, channel 2: note on 67
    60 90 4C 20               ; 96 ticks on, channel 1: note on 76
    81 40 82 30 40            ; 192 ticks on, channel 3: note off 48
    00 3C 40                  ; channel 3, running status: note off 60
    00 81 43 40               ; channel 2: note off 67
    00 80 4C 40               ; channel 1: note off 76
    00 FF 2F 00               ; end of track
"""
"""RP-001 p. 12-13."""

FORMAT_1 = """
    4D 54 68 64  00 00 00 06  ; MThd, six bytes follow
    00 01  00 04  00 60       ; format 1, four tracks, 96 ticks a quarter note
    4D 54 72 6B  00 00 00 14  ; MTrk, 20 bytes follow: the tempo map
    00 FF 58 04 04 02 18 08   ; 4/4, a click each 24 clocks, eight 32nds a quarter note
    00 FF 51 03 07 A1 20      ; 500,000 microseconds a quarter note
    83 00 FF 2F 00            ; 384 ticks on: end of track
    4D 54 72 6B  00 00 00 10  ; MTrk, 16 bytes follow
    00 C0 05                  ; channel 1: program 5
    81 40 90 4C 20            ; 192 ticks on: note on 76
    81 40 4C 00               ; 192 ticks on: note on 76 at velocity 0
    00 FF 2F 00               ; end of track
    4D 54 72 6B  00 00 00 0F  ; MTrk, 15 bytes follow
    00 C1 2E                  ; channel 2: program 46
    60 91 43 40               ; 96 ticks on: note on 67
    82 20 43 00               ; 288 ticks on: note on 67 at velocity 0
    00 FF 2F 00               ; end of track
    4D 54 72 6B  00 00 00 15  ; MTrk, 21 bytes follow
    00 C2 46                  ; channel 3: program 70
    00 92 30 60               ; note on 48
    00 3C 60                  ; running status: note on 60
    83 00 30 00               ; 384 ticks on: note on 48 at velocity 0
    00 3C 00                  ; running status: note on 60 at velocity 0
    00 FF 2F 00               ; end of track
"""
"""RP-001 p. 13-14."""


def unhex(annotated: str) -> bytes:
    """The bytes of a hex text; what follows a semicolon on a line is for people."""
    return bytes.fromhex(" ".join(line.partition(";")[0] for line in annotated.splitlines()))
