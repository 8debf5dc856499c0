"""What a control of a definition is, in plain words: its values with their codes, and all else of it."""

from __future__ import annotations

from switchmatrix.definition.carriers import Slot, SysexCarrier
from switchmatrix.definition.controls import TRIGGER, Codes, Control, Named
from switchmatrix.definition.values import Quantity


def of_control(control: Control, on_channel: bool) -> str:
    """`mix: 0 % at 0, 100 % at 127; stored in patches`; `on_channel` where its channel is to be named."""
    said = [values(control)]
    if isinstance(control.carrier, SysexCarrier):
        said += _template(control.carrier)
    if on_channel:
        said.append(f"on the channel {control.channel}")
    said += [
        text
        for true, text in (
            (control.main, "main switch"),
            (control.stored, "stored in patches"),
            (control.resets, f"reloads {', '.join(control.resets)}"),
            (control.settle_us, f"takes {milliseconds(control.settle_us)}"),
            (control.moved_by_player, "the player moves it"),
            (control.writes, "writes memory: refused in scenes"),
            (control.hazard, f"HAZARD, {control.hazard}: never sent"),
        )
        if true
    ]
    return f"{control.name}: {'; '.join(said)}"


def values(control: Control) -> str:
    """Every word with its codes, or the ends (and corners) of the scale."""
    if control.toggle is not None:
        release = control.toggle.release
        let_go = "" if release is None else f", then {release}"
        stands = {None: "", True: ", powers up on", False: ", powers up off"}[control.toggle.powers_up]
        return f"each press flips it: {control.toggle.press}{let_go}{stands}"
    if isinstance(control.scale, Named) and control.kind == TRIGGER:
        return f"fires at {control.scale.words[0][1].sent}"
    if isinstance(control.scale, Named):
        return ", ".join(f"{word} {_codes(codes)}" for word, codes in control.scale.words)
    scale = control.scale
    points = [f"{Quantity(number, scale.unit)} at {code}" for code, number in scale.points]
    bottom = [] if scale.bottom is None else [f"-inf dB at {scale.bottom}"]
    return ", ".join(bottom + points)


def _codes(codes: Codes) -> str:
    """`127`; `0-42 (sent as 21)`."""
    if codes.low == codes.high:
        return str(codes.sent)
    return f"{codes.low}-{codes.high} (sent as {codes.sent})"


def _template(carrier: SysexCarrier) -> list[str]:
    """The message byte by byte, and how its value and checksum are worked out."""
    said = [" ".join(["F0", *(_byte(part) for part in carrier.body), "F7"])]
    if carrier.signed:
        said.append("the value is signed (two's complement)")
    if carrier.summed is not None:
        first, last = carrier.summed
        said.append(f"checksum over bytes {first + 1} to {last + 1} between F0 and F7")
    return said


def _byte(part: int | Slot) -> str:
    return f"<{part.value}>" if isinstance(part, Slot) else f"{part:02X}"


def milliseconds(us: int) -> str:
    """`35 ms`."""
    return f"{us / 1000:g} ms"
