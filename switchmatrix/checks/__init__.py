"""Judgements on finished values: one small function a file, in the order below."""

from __future__ import annotations

from collections.abc import Callable

from switchmatrix.checks.channel_clash import channel_clash
from switchmatrix.checks.clock_crowded import clock_crowded
from switchmatrix.checks.controller_reaches import controller_reaches
from switchmatrix.checks.mute_without_value import mute_without_value
from switchmatrix.checks.never_visited import never_visited
from switchmatrix.checks.over_budget import over_budget
from switchmatrix.checks.patch_twice import patch_twice
from switchmatrix.checks.pickup_missing import pickup_missing
from switchmatrix.checks.program_shared import program_shared
from switchmatrix.checks.repeats_scene import repeats_scene
from switchmatrix.checks.retune_too_close import retune_too_close
from switchmatrix.checks.set_while_bypassed import set_while_bypassed
from switchmatrix.checks.song_unused import song_unused
from switchmatrix.checks.standing_missing import standing_missing
from switchmatrix.checks.transliterated import transliterated
from switchmatrix.checks.undetermined import undetermined
from switchmatrix.diagnostics.diagnostic import Diagnostic
from switchmatrix.states.show import ShowStates

CHECKS: tuple[Callable[[ShowStates], list[Diagnostic]], ...] = (
    channel_clash,
    program_shared,
    patch_twice,
    controller_reaches,
    mute_without_value,
    standing_missing,
    song_unused,
    undetermined,
    set_while_bypassed,
    pickup_missing,
    repeats_scene,
    never_visited,
    over_budget,
    clock_crowded,
    retune_too_close,
    transliterated,
)
