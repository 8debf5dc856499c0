"""What a definition receives, in the layout of a MIDI Implementation Chart, to lie beside the maker's own.

The rows and columns are those of the chart that the MIDI 1.0 Detailed Specification publishes (from memory).
"""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from switchmatrix.compile.remarks import milliseconds, of_control
from switchmatrix.definition.carriers import (
    Cc14Carrier,
    CcCarrier,
    NoteCarrier,
    ParameterCarrier,
    PitchBendCarrier,
    PressureCarrier,
    ProgramCarrier,
    SysexCarrier,
)
from switchmatrix.definition.controls import Control, Named
from switchmatrix.definition.definition import Definition, Identity
from switchmatrix.definition.programs import BankSelect, Programs, Repeat

YES, NO, UNSAID = "o", "x", "-"
HEAD = ("Function", "Transmitted", "Recognised", "Remarks")
WIDTH = 48
"""Columns of the remarks; longer ones go on below."""

LEGEND = """\
o: yes    x: not in this definition    -: a definition does not say
Mode 1: omni on, poly    Mode 2: omni on, mono    Mode 3: omni off, poly    Mode 4: omni off, mono
"""


@dataclass(frozen=True, slots=True)
class Row:
    """One function: whether it is recognised, with remarks, and whether it is transmitted."""

    function: str
    recognised: str
    remarks: tuple[str, ...] = ()
    transmitted: str = UNSAID


def chart(definition: Definition) -> str:
    """The chart as text: a heading, a table of four columns, what the signs mean."""
    head = [f"MIDI Implementation Chart: {definition.title}"]
    if definition.hazard is not None:
        head.append(f"HAZARD, {definition.hazard}: nothing is compiled for it or sent to it")
    if definition.gap_us:
        head.append(f"at least {milliseconds(definition.gap_us)} between two messages to it")
    rows = [
        *_basic(definition),
        *_notes(definition),
        *_touch_and_bend(definition),
        *_control_changes(definition),
        *_program_changes(definition),
        *_system(definition),
    ]
    return "\n".join([*head, "", *_table(rows), ""]) + f"\n{LEGEND}"


def _table(rows: Sequence[Row]) -> Iterator[str]:
    cells = [HEAD[:3], *((row.function, row.transmitted, row.recognised) for row in rows)]
    widths = [max(len(row[n]) for row in cells) for n in range(3)]
    yield _line(HEAD[:3], HEAD[3], widths)
    yield _line(["-" * width for width in widths], "-" * WIDTH, widths)
    for row in rows:
        said = [line for remark in row.remarks for line in _wrapped(remark)] or [""]
        yield _line((row.function, row.transmitted, row.recognised), said[0], widths)
        for more in said[1:]:
            yield _line(("", "", ""), more, widths)


def _line(cells: Sequence[str], remark: str, widths: Sequence[int]) -> str:
    return "  ".join([*(c.ljust(w) for c, w in zip(cells, widths, strict=True)), remark]).rstrip()


def _wrapped(remark: str) -> list[str]:
    return textwrap.wrap(remark, WIDTH, subsequent_indent="  ", break_on_hyphens=False)


def _yes(is_there: object) -> str:
    return YES if is_there else NO


def _number(number: int) -> str:
    """In decimal, and in hexadecimal as many charts have it: `80 (50H)`."""
    return f"{number} ({number:02X}H)"


def _spans(numbers: Iterable[int]) -> str:
    """`0-4, 60`; `x` where there is none."""
    spans: list[tuple[int, int]] = []
    for number in sorted(set(numbers)):
        if spans and spans[-1][1] == number - 1:
            spans[-1] = (spans[-1][0], number)
        else:
            spans.append((number, number))
    return ", ".join(str(low) if low == high else f"{low}-{high}" for low, high in spans) or NO


def _says(definition: Definition, control: Control) -> str:
    return of_control(control, on_channel=len(definition.channels) > 1)


def _basic(definition: Definition) -> list[Row]:
    channels = definition.channels
    several = f"{len(channels)} channels, set at the box: {', '.join(channels)}"
    return [
        Row("Basic Channel: Default", UNSAID),
        Row("             : Changed", "1-16", (several if len(channels) > 1 else "set at the box",)),
        Row("Mode: Default", UNSAID, ("mode 3 is taken, unless the rig says `omni: yes`",)),
        Row("    : Messages", NO),
        Row("    : Altered", NO),
    ]


def _notes(definition: Definition) -> list[Row]:
    notes = [(c, c.carrier) for c in definition.controls if isinstance(c.carrier, NoteCarrier)]
    notes.sort(key=lambda note: note[1].number)
    heard = _spans(carrier.number for _, carrier in notes)
    released = [str(carrier.number) for _, carrier in notes if carrier.release]
    remarks = tuple(f"{_number(carrier.number)} {_says(definition, control)}" for control, carrier in notes)
    return [
        Row("Note Number", heard, remarks),
        Row("           : True voice", heard),
        Row("Velocity: Note ON", _yes(notes), ("the codes are velocities",) if notes else ()),
        Row(
            "        : Note OFF",
            _yes(released),
            (f"follows at once after {', '.join(released)}",) if released else (),
        ),
    ]


def _touch_and_bend(definition: Definition) -> list[Row]:
    touch = [_says(definition, c) for c in definition.controls if isinstance(c.carrier, PressureCarrier)]
    bend = [_says(definition, c) for c in definition.controls if isinstance(c.carrier, PitchBendCarrier)]
    return [
        Row("Aftertouch: Key's", NO),
        Row("          : Channel's", _yes(touch), tuple(touch)),
        Row("Pitch Bend", _yes(bend), tuple(bend)),
    ]


def _control_changes(definition: Definition) -> list[Row]:
    """A row for each controller that the definition knows, by number."""
    remarks: dict[int, list[str]] = {}
    for number, remark in _bank_numbers(definition):
        remarks.setdefault(number, []).append(remark)
    for control in definition.controls:
        for number, remark in _by_number(definition, control):
            said = remarks.setdefault(number, [])
            if remark not in said:
                said.append(remark)
    rows = [Row(f"              : {_number(n)}", YES, tuple(said)) for n, said in sorted(remarks.items())]
    return [Row("Control Change", _yes(rows)), *rows]


def _by_number(definition: Definition, control: Control) -> list[tuple[int, str]]:
    """The controllers that move the control, each with a remark."""
    said: list[tuple[int, str]] = []
    match control.carrier:
        case CcCarrier(number):
            said = [(number, _says(definition, control))]
        case Cc14Carrier(msb, lsb):
            said = [
                (msb, f"upper seven bits, CC {lsb} follows with the lower: {_says(definition, control)}"),
                (lsb, f"lower seven bits of {control.name}, after CC {msb}"),
            ]
        case ParameterCarrier() as carrier:
            said = _parameter(carrier, _says(definition, control))
    return said + [(number, f"also moves {control.name}; never sent") for number in control.also]


def _parameter(carrier: ParameterCarrier, says: str) -> list[tuple[int, str]]:
    """All that is said of the parameter stands at the upper half of its number."""
    name, upper, lower = ("RPN", 101, 100) if carrier.registered else ("NRPN", 99, 98)
    close = ", then the null number" if carrier.close else ""
    said = f"{name} {carrier.msb}, {carrier.lsb} with {carrier.bits} bits of data{close}: {says}"
    rows = [(6, "data of a parameter, first or only byte"), (lower, f"{name} number, lower half")]
    rows += [(38, "data of a parameter, second byte")] if carrier.bits == 14 else []
    return [*rows, (upper, f"{name} number, upper half, comes first"), (upper, said)]


def _bank_numbers(definition: Definition) -> list[tuple[int, str]]:
    """The controllers of bank select, each with the values that select a bank of programs or of a control."""
    programs = definition.programs
    if programs is None or programs.bank is None:
        return []
    banks = set(range((programs.count - 1) // programs.bank_size + 1))
    carriers = [c.carrier for c in definition.controls if isinstance(c.carrier, ProgramCarrier)]
    banks |= {carrier.bank for carrier in carriers if carrier.bank is not None}
    match programs.bank:
        case BankSelect.MSB:
            return [(0, f"bank select: {_spans(banks)}")]
        case BankSelect.LSB:
            return [(32, f"bank select: {_spans(banks)}")]
        case BankSelect.BOTH:
            return [
                (0, f"bank select, upper half: {_spans(bank >> 7 for bank in banks)}"),
                (32, f"bank select, lower half: {_spans(bank & 0x7F for bank in banks)}"),
            ]


def _select(scheme: BankSelect, bank: int) -> str:
    """`CC 0 1, CC 32 5`: bank select as the bytes have it."""
    match scheme:
        case BankSelect.MSB:
            return f"CC 0 {bank}"
        case BankSelect.LSB:
            return f"CC 32 {bank}"
        case BankSelect.BOTH:
            return f"CC 0 {bank >> 7}, CC 32 {bank & 0x7F}"


def _program_changes(definition: Definition) -> list[Row]:
    programs = definition.programs
    carried = [c for c in definition.controls if isinstance(c.carrier, ProgramCarrier)]
    numbers = {code for control in carried for code in _codes(control)}
    remarks: list[str] = []
    true = Row("              : True #", NO)
    if programs is not None:
        numbers |= set(range(min(programs.count, programs.bank_size)))
        ends = f"{programs.panel.label(0)} to {programs.panel.label(programs.count - 1)}"
        true = Row("              : True #", ends, (f"{programs.count}, as the panel counts",))
        remarks = _of_programs(programs, apart=len(definition.channels) > 1)
    remarks += [_in_bank(control, programs) + _says(definition, control) for control in carried]
    return [Row("Program Change", _spans(numbers), tuple(remarks)), true]


def _codes(control: Control) -> list[int]:
    words = control.scale.words if isinstance(control.scale, Named) else ()
    codes = [code for _, codes in words for code in range(codes.low, codes.high + 1)]
    toggle = control.toggle
    return codes if toggle is None else [c for c in (toggle.press, toggle.release) if c is not None]


def _in_bank(control: Control, programs: Programs | None) -> str:
    """`after CC 0 3, `: where the programs of a control lie."""
    bank = control.carrier.bank if isinstance(control.carrier, ProgramCarrier) else None
    scheme = programs.bank if programs is not None else None
    return "" if bank is None or scheme is None else f"after {_select(scheme, bank)}, "


def _of_programs(programs: Programs, *, apart: bool) -> list[str]:
    """Where the programs lie on the wire, what a recall and a repeat do, what is remapped."""
    ends = dict.fromkeys((0, programs.count - 1))
    said = ["; ".join(f"{programs.panel.label(at)} is {_on_the_wire(programs, at)}" for at in ends)]
    if programs.bank is not None:
        when = "before every program" if programs.bank_always else "where the bank changes"
        said.append(f"bank select {when}; {programs.bank_size} programs in a bank")
    if programs.settle_us:
        said.append(f"a recall takes {milliseconds(programs.settle_us)}")
    does = {Repeat.RECALLS: "recalls it again", Repeat.NOTHING: "does nothing"}
    said.append(f"the program it is in already {does.get(programs.repeat, f'flips {programs.toggled}')}")
    if programs.remap:
        pairs = [f"{programs.panel.label(a)} calls {programs.panel.label(b)}" for a, b in programs.remap]
        said.append(f"remapped: {', '.join(pairs)}")
    said += ["the player calls programs too"] if programs.moved_by_player else []
    return said + ([f"on the channel {programs.channel}"] if apart else [])


def _on_the_wire(programs: Programs, at: int) -> str:
    """Bank select and program as the bytes have them; the remap apart."""
    if programs.bank is None:
        return f"program {at} on the wire"
    bank, program = divmod(at, programs.bank_size)
    return f"{_select(programs.bank, bank)}, program {program} on the wire"


def _system(definition: Definition) -> list[Row]:
    said = [_says(definition, c) for c in definition.controls if isinstance(c.carrier, SysexCarrier)]
    identity, sends = definition.identity, UNSAID
    if identity is not None:
        said, sends = [*said, _replies(identity)], YES
    clock = ("wants it at the song's tempo",) if definition.clock else ()
    return [
        Row("System Exclusive", _yes(said), tuple(said), sends),
        Row("System Common: Song Position", NO),
        Row("             : Song Select", NO),
        Row("             : Tune Request", NO),
        Row("System Real Time: Clock", _yes(clock), clock),
        Row("                : Commands", NO),
        Row("Aux Messages: Local ON/OFF", NO),
        Row("            : All Notes OFF", NO),
        Row("            : Active Sensing", NO),
        Row("            : System Reset", NO),
    ]


def _replies(identity: Identity) -> str:
    maker = " ".join(f"{byte:02X}" for byte in identity.manufacturer)
    said = f"Identity Reply: maker {maker}, family {identity.family}, member {identity.member}"
    version = identity.version
    return said if version is None else f"{said}, version {' '.join(f'{byte:02X}' for byte in version)}"
