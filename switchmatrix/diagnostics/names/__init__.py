"""Every kind of finding: a file each, any stage may raise them."""

from __future__ import annotations

from switchmatrix.diagnostics.diagnostic import Name
from switchmatrix.diagnostics.names.absent_clash import ABSENT_CLASH
from switchmatrix.diagnostics.names.accepted_nothing import ACCEPTED_NOTHING
from switchmatrix.diagnostics.names.as_stored_nothing import AS_STORED_NOTHING
from switchmatrix.diagnostics.names.bad_name import BAD_NAME
from switchmatrix.diagnostics.names.bad_place import BAD_PLACE
from switchmatrix.diagnostics.names.bad_value import BAD_VALUE
from switchmatrix.diagnostics.names.carrier_twice import CARRIER_TWICE
from switchmatrix.diagnostics.names.carrier_wrong import CARRIER_WRONG
from switchmatrix.diagnostics.names.cc_reserved import CC_RESERVED
from switchmatrix.diagnostics.names.channel_clash import CHANNEL_CLASH
from switchmatrix.diagnostics.names.channel_missing import CHANNEL_MISSING
from switchmatrix.diagnostics.names.channel_shared import CHANNEL_SHARED
from switchmatrix.diagnostics.names.clock_crowded import CLOCK_CROWDED
from switchmatrix.diagnostics.names.controller_reaches import CONTROLLER_REACHES
from switchmatrix.diagnostics.names.file_passed_over import FILE_PASSED_OVER
from switchmatrix.diagnostics.names.file_unreadable import FILE_UNREADABLE
from switchmatrix.diagnostics.names.hands_in_base import HANDS_IN_BASE
from switchmatrix.diagnostics.names.hazard import HAZARD
from switchmatrix.diagnostics.names.home_gives_nothing import HOME_GIVES_NOTHING
from switchmatrix.diagnostics.names.key_twice import KEY_TWICE
from switchmatrix.diagnostics.names.left_to_repeat import LEFT_TO_REPEAT
from switchmatrix.diagnostics.names.left_to_reset import LEFT_TO_RESET
from switchmatrix.diagnostics.names.like_circle import LIKE_CIRCLE
from switchmatrix.diagnostics.names.like_order import LIKE_ORDER
from switchmatrix.diagnostics.names.missing_key import MISSING_KEY
from switchmatrix.diagnostics.names.missing_patch import MISSING_PATCH
from switchmatrix.diagnostics.names.mute_unsound import MUTE_UNSOUND
from switchmatrix.diagnostics.names.never_visited import NEVER_VISITED
from switchmatrix.diagnostics.names.no_tempo import NO_TEMPO
from switchmatrix.diagnostics.names.not_in_hands import NOT_IN_HANDS
from switchmatrix.diagnostics.names.not_stored import NOT_STORED
from switchmatrix.diagnostics.names.not_text import NOT_TEXT
from switchmatrix.diagnostics.names.not_translated import NOT_TRANSLATED
from switchmatrix.diagnostics.names.number_outside import NUMBER_OUTSIDE
from switchmatrix.diagnostics.names.order_disagrees import ORDER_DISAGREES
from switchmatrix.diagnostics.names.out_of_range import OUT_OF_RANGE
from switchmatrix.diagnostics.names.over_budget import OVER_BUDGET
from switchmatrix.diagnostics.names.over_limit import OVER_LIMIT
from switchmatrix.diagnostics.names.panel_wrong import PANEL_WRONG
from switchmatrix.diagnostics.names.patch_outside import PATCH_OUTSIDE
from switchmatrix.diagnostics.names.patch_twice import PATCH_TWICE
from switchmatrix.diagnostics.names.patch_undoes_word import PATCH_UNDOES_WORD
from switchmatrix.diagnostics.names.pickup_missing import PICKUP_MISSING
from switchmatrix.diagnostics.names.places_out_of_order import PLACES_OUT_OF_ORDER
from switchmatrix.diagnostics.names.program_shared import PROGRAM_SHARED
from switchmatrix.diagnostics.names.recall_over_hands import RECALL_OVER_HANDS
from switchmatrix.diagnostics.names.repeat_missing import REPEAT_MISSING
from switchmatrix.diagnostics.names.repeats_scene import REPEATS_SCENE
from switchmatrix.diagnostics.names.reset_circle import RESET_CIRCLE
from switchmatrix.diagnostics.names.retune_too_close import RETUNE_TOO_CLOSE
from switchmatrix.diagnostics.names.rounded import ROUNDED
from switchmatrix.diagnostics.names.scale_wrong import SCALE_WRONG
from switchmatrix.diagnostics.names.set_while_bypassed import SET_WHILE_BYPASSED
from switchmatrix.diagnostics.names.song_unused import SONG_UNUSED
from switchmatrix.diagnostics.names.standing_missing import STANDING_MISSING
from switchmatrix.diagnostics.names.template_wrong import TEMPLATE_WRONG
from switchmatrix.diagnostics.names.tempo_beside_place import TEMPO_BESIDE_PLACE
from switchmatrix.diagnostics.names.tempo_changes_inside import TEMPO_CHANGES_INSIDE
from switchmatrix.diagnostics.names.tempo_unsound import TEMPO_UNSOUND
from switchmatrix.diagnostics.names.toggle_unsure import TOGGLE_UNSURE
from switchmatrix.diagnostics.names.too_large import TOO_LARGE
from switchmatrix.diagnostics.names.transliterated import TRANSLITERATED
from switchmatrix.diagnostics.names.trigger_misplaced import TRIGGER_MISPLACED
from switchmatrix.diagnostics.names.undetermined import UNDETERMINED
from switchmatrix.diagnostics.names.unknown_key import UNKNOWN_KEY
from switchmatrix.diagnostics.names.unknown_name import UNKNOWN_NAME
from switchmatrix.diagnostics.names.unknown_word import UNKNOWN_WORD
from switchmatrix.diagnostics.names.value_missing import VALUE_MISSING
from switchmatrix.diagnostics.names.words_disagree import WORDS_DISAGREE
from switchmatrix.diagnostics.names.writes_memory import WRITES_MEMORY
from switchmatrix.diagnostics.names.wrong_shape import WRONG_SHAPE
from switchmatrix.diagnostics.names.yaml_feature import YAML_FEATURE
from switchmatrix.diagnostics.names.yaml_syntax import YAML_SYNTAX

NAMES: tuple[Name, ...] = (
    FILE_UNREADABLE,
    FILE_PASSED_OVER,
    ACCEPTED_NOTHING,
    TOO_LARGE,
    NOT_TEXT,
    YAML_SYNTAX,
    YAML_FEATURE,
    KEY_TWICE,
    VALUE_MISSING,
    UNKNOWN_KEY,
    MISSING_KEY,
    WRONG_SHAPE,
    BAD_NAME,
    NUMBER_OUTSIDE,
    SCALE_WRONG,
    RESET_CIRCLE,
    CARRIER_WRONG,
    TEMPLATE_WRONG,
    CARRIER_TWICE,
    CC_RESERVED,
    REPEAT_MISSING,
    PANEL_WRONG,
    UNKNOWN_NAME,
    HAZARD,
    WRITES_MEMORY,
    PATCH_OUTSIDE,
    CHANNEL_MISSING,
    CHANNEL_CLASH,
    CHANNEL_SHARED,
    CONTROLLER_REACHES,
    PATCH_TWICE,
    PROGRAM_SHARED,
    MUTE_UNSOUND,
    UNKNOWN_WORD,
    BAD_VALUE,
    OUT_OF_RANGE,
    OVER_LIMIT,
    ROUNDED,
    MISSING_PATCH,
    NOT_STORED,
    NOT_IN_HANDS,
    HANDS_IN_BASE,
    TRIGGER_MISPLACED,
    NOT_TRANSLATED,
    LIKE_CIRCLE,
    LIKE_ORDER,
    BAD_PLACE,
    PLACES_OUT_OF_ORDER,
    ORDER_DISAGREES,
    TEMPO_UNSOUND,
    TEMPO_BESIDE_PLACE,
    NO_TEMPO,
    TEMPO_CHANGES_INSIDE,
    OVER_BUDGET,
    CLOCK_CROWDED,
    WORDS_DISAGREE,
    ABSENT_CLASH,
    PATCH_UNDOES_WORD,
    HOME_GIVES_NOTHING,
    AS_STORED_NOTHING,
    LEFT_TO_REPEAT,
    LEFT_TO_RESET,
    TOGGLE_UNSURE,
    RECALL_OVER_HANDS,
    UNDETERMINED,
    SET_WHILE_BYPASSED,
    PICKUP_MISSING,
    RETUNE_TOO_CLOSE,
    REPEATS_SCENE,
    NEVER_VISITED,
    SONG_UNUSED,
    STANDING_MISSING,
    TRANSLITERATED,
)

__all__ = [
    "ABSENT_CLASH",
    "ACCEPTED_NOTHING",
    "AS_STORED_NOTHING",
    "BAD_NAME",
    "BAD_PLACE",
    "BAD_VALUE",
    "CARRIER_TWICE",
    "CARRIER_WRONG",
    "CC_RESERVED",
    "CHANNEL_CLASH",
    "CHANNEL_MISSING",
    "CHANNEL_SHARED",
    "CLOCK_CROWDED",
    "CONTROLLER_REACHES",
    "FILE_PASSED_OVER",
    "FILE_UNREADABLE",
    "HANDS_IN_BASE",
    "HAZARD",
    "HOME_GIVES_NOTHING",
    "KEY_TWICE",
    "LEFT_TO_REPEAT",
    "LEFT_TO_RESET",
    "LIKE_CIRCLE",
    "LIKE_ORDER",
    "MISSING_KEY",
    "MISSING_PATCH",
    "MUTE_UNSOUND",
    "NAMES",
    "NEVER_VISITED",
    "NOT_IN_HANDS",
    "NOT_STORED",
    "NOT_TEXT",
    "NOT_TRANSLATED",
    "NO_TEMPO",
    "NUMBER_OUTSIDE",
    "ORDER_DISAGREES",
    "OUT_OF_RANGE",
    "OVER_BUDGET",
    "OVER_LIMIT",
    "PANEL_WRONG",
    "PATCH_OUTSIDE",
    "PATCH_TWICE",
    "PATCH_UNDOES_WORD",
    "PICKUP_MISSING",
    "PLACES_OUT_OF_ORDER",
    "PROGRAM_SHARED",
    "RECALL_OVER_HANDS",
    "REPEATS_SCENE",
    "REPEAT_MISSING",
    "RESET_CIRCLE",
    "RETUNE_TOO_CLOSE",
    "ROUNDED",
    "SCALE_WRONG",
    "SET_WHILE_BYPASSED",
    "SONG_UNUSED",
    "STANDING_MISSING",
    "TEMPLATE_WRONG",
    "TEMPO_BESIDE_PLACE",
    "TEMPO_CHANGES_INSIDE",
    "TEMPO_UNSOUND",
    "TOGGLE_UNSURE",
    "TOO_LARGE",
    "TRANSLITERATED",
    "TRIGGER_MISPLACED",
    "UNDETERMINED",
    "UNKNOWN_KEY",
    "UNKNOWN_NAME",
    "UNKNOWN_WORD",
    "VALUE_MISSING",
    "WORDS_DISAGREE",
    "WRITES_MEMORY",
    "WRONG_SHAPE",
    "YAML_FEATURE",
    "YAML_SYNTAX",
]
