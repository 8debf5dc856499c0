"""A definition's programs: how its panel counts them, where they lie on the wire, what a recall does."""

from __future__ import annotations

from dataclasses import replace

from switchmatrix.bind.fields import Fields
from switchmatrix.bind.pace import wait_us
from switchmatrix.bind.panels import MOST_PROGRAMS, panel_of
from switchmatrix.definition.carriers import ProgramCarrier
from switchmatrix.definition.controls import MAIN, SWITCH, Control
from switchmatrix.definition.programs import BankSelect, Programs, Repeat
from switchmatrix.diagnostics import names
from switchmatrix.midi.numbers import bank_number
from switchmatrix.source import Span
from switchmatrix.syntax.nodes import Scalar


def programs_of(fields: Fields, controls: list[Control], broken: set[str]) -> Programs | None:
    """The block `programs`; None where there is none or it is wrong."""
    block = fields.block("programs")
    if block is None:
        _nowhere_to_store(fields, controls)
        return None
    count = block.whole("count", 1, MOST_PROGRAMS)
    panel = panel_of(block, count)
    settle_us = wait_us(block, "settle")
    repeat, toggled = _repeat(block, controls, broken)
    banks = None if count is None or panel is None else _banks(block, count)
    if count is None or panel is None or settle_us is None or repeat is None or banks is None:
        return None
    bank, size, always = banks
    programs = Programs(
        count=count,
        panel=panel,
        settle_us=settle_us,
        repeat=repeat,
        toggled=toggled,
        span=block.span,
        bank=bank,
        bank_size=size,
        bank_always=always,
        moved_by_player=block.yes("moved-by"),
        channel=block.text("channel") or MAIN,
    )
    _reaches_banks(block, bank, controls)
    return _remapped(block, programs)


def _nowhere_to_store(fields: Fields, controls: list[Control]) -> None:
    stored = next((c for c in controls if c.stored), None)
    if stored is not None and not fields.has("programs"):
        message = f"`{stored.name}` is stored, but the device has no programs to store it in"
        help = "write `programs:`, or take `stored` away"
        fields.found.append(names.REPEAT_MISSING.at(stored.span, message, help))


def _banks(block: Fields, count: int) -> tuple[BankSelect | None, int, bool] | None:
    """The bank select, how many programs lie in a bank, and whether it goes before every program."""
    if any(block.broken(key) for key in ("bank", "bank-when", "bank-size")):
        return None
    text, when = block.text("bank"), block.text("bank-when")
    if text is None:
        return (None, 128, False) if _unbanked(block, count) else None
    if when is None:
        message = (
            "it is not said whether bank select goes before every program or only where the bank changes"
        )
        help = "write `bank-when: always`, which any box understands, or `bank-when: change`"
        _wrong(block, block.span, message, help)
        return None
    size = block.whole("bank-size", 1, 128) if block.has("bank-size") else 128
    if size is None:
        return None
    bank, needed = BankSelect(text), -(-count // size)
    if needed > bank.banks:
        message = f"{count} programs are {needed} banks of {size}, and `{text}` tells {bank.banks} apart"
        _wrong(block, _count_span(block), message, "mend `count`, `bank-size` or `bank`")
        return None
    return bank, size, when == "always"


def _unbanked(block: Fields, count: int) -> bool:
    """Whether the programs do without bank select."""
    extra = next((key for key in ("bank-when", "bank-size") if block.has(key)), None)
    if extra is not None:
        help = "write `bank: cc0`, `cc32` or `both`, or take it away"
        _wrong(block, block.span, f"`{extra}` without `bank` means nothing", help)
    elif count > 128:
        message = f"a program change tells 128 programs apart, and `count` is {count}"
        help = "say which bank select the device wants: `bank: cc0`, `cc32` or `both`"
        _wrong(block, _count_span(block), message, help)
    return extra is None and count <= 128


def _reaches_banks(block: Fields, bank: BankSelect | None, controls: list[Control]) -> None:
    """Controls that travel as a program lie in banks that the device's bank select tells apart."""
    for control in controls:
        lies = control.carrier.bank if isinstance(control.carrier, ProgramCarrier) else None
        if bank is not None and lies is not None and lies >= bank.banks:
            message = (
                f"`{control.name}` lies in bank {bank_number(lies)}, "
                f"and `{bank.value}` tells {bank.banks} banks apart"
            )
            help = "banks count from 1: mend the control's `bank`, or the `bank` of `programs`"
            block.found.append(names.CARRIER_WRONG.at(control.span, message, help))


def _remapped(block: Fields, programs: Programs) -> Programs | None:
    """The programs with their remap table: an incoming program, and the one that it calls."""
    remap: dict[int, int] = {}
    sound = not block.broken("remap")
    for key, node in block.each("remap"):
        if not isinstance(node, Scalar):
            sound = False
            continue
        asked, called = _place(key, programs, block), _place(node, programs, block)
        if asked is None or called is None:
            sound = False
        elif remap.setdefault(asked, called) != called:
            message = f"program {programs.panel.label(asked)} is remapped twice"
            _wrong(block, key.span, message, "it calls one program: keep the one that the box calls")
            sound = False
    return replace(programs, remap=tuple(sorted(remap.items()))) if sound else None


def _place(scalar: Scalar, programs: Programs, block: Fields) -> int | None:
    at = programs.position(scalar.text)
    if at is None:
        ends = f"{programs.panel.label(0)} to {programs.panel.label(programs.count - 1)}"
        message = f"`{scalar.text}` is no program of this panel: it goes from {ends}"
        help = "in `remap: {5: 12}` the program that calls 5 on other panels calls 12 on this one"
        _wrong(block, scalar.span, message, help)
    return at


def _count_span(block: Fields) -> Span:
    scalar = block.scalar("count")
    return scalar.span if scalar is not None else block.span


def _wrong(block: Fields, span: Span, message: str, help: str) -> None:
    block.found.append(names.PANEL_WRONG.at(span, message, help))


def _repeat(block: Fields, controls: list[Control], broken: set[str]) -> tuple[Repeat | None, str | None]:
    scalar = block.scalar("repeat")
    if scalar is None:
        return _unsaid(block, controls), None
    word, _, control = scalar.text.partition(" ")
    if word == "toggles" and control:
        known = [c.name for c in controls if c.kind == SWITCH]
        if control in broken:
            return None, None
        if control in known:
            return Repeat.TOGGLES, control
        message = f"`{control}` is no switch of this definition"
        block.found.append(names.UNKNOWN_NAME.at(scalar.span, message, "name one of its switches"))
        return None, None
    if scalar.text in ("nothing", "recalls"):
        return Repeat(scalar.text), None
    message = f"`{scalar.text}` does not say what a repeated program does"
    help = "write `recalls`, `nothing`, or `toggles CONTROL`"
    block.found.append(names.BAD_VALUE.at(scalar.span, message, help))
    return None, None


def _unsaid(block: Fields, controls: list[Control]) -> Repeat | None:
    """Where nothing is stored, a repeat changes nothing that could be told."""
    if block.broken("repeat"):
        return None
    if not any(c.stored for c in controls):
        return Repeat.RECALLS
    message = "it is not said what a repeated program does, and controls are stored"
    help = (
        "write `repeat: recalls`, `repeat: nothing` or `repeat: toggles CONTROL`: call the same "
        "program twice on the box, with an edit in between, and look"
    )
    block.found.append(names.REPEAT_MISSING.at(block.span, message, help))
    return None
