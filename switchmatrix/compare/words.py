"""A rig's parts in a rig tech's words."""

from __future__ import annotations

from switchmatrix.compile.remarks import milliseconds
from switchmatrix.definition.carriers import (
    Carrier,
    Cc14Carrier,
    CcCarrier,
    NoteCarrier,
    ParameterCarrier,
    PitchBendCarrier,
    PressureCarrier,
    ProgramCarrier,
    SysexCarrier,
)
from switchmatrix.definition.controls import MAIN, Control, Linear
from switchmatrix.definition.definition import Identity
from switchmatrix.definition.programs import BanksAndSlots, BankSelect, Numbers, Programs, Repeat
from switchmatrix.definition.values import Quantity
from switchmatrix.midi.numbers import bank_number
from switchmatrix.model.rig import (
    Controller,
    Device,
    DoneWithout,
    Joint,
    Limit,
    Mute,
    Passed,
    Pedal,
    PedalStep,
    Rig,
    Tread,
    Words,
)
from switchmatrix.model.settings import (
    AsStored,
    AtHome,
    AtTempo,
    Block,
    Chosen,
    Coded,
    Fired,
    Left,
    Meaning,
    Patch,
    Said,
    Setting,
)

BANK_SELECT = {BankSelect.MSB: "CC 0", BankSelect.LSB: "CC 32", BankSelect.BOTH: "CC 0 and CC 32"}


def carried(carrier: Carrier) -> str:
    """How a code travels: `CC 80`, `NRPN 1, 8 with 14 bits of data`."""
    match carrier:
        case CcCarrier(number):
            return f"CC {number}"
        case Cc14Carrier(msb, lsb):
            return f"CC {msb} and CC {lsb}"
        case ParameterCarrier(registered, msb, lsb, bits, close):
            name = "RPN" if registered else "NRPN"
            return f"{name} {msb}, {lsb} with {bits} bits of data{', then the null number' if close else ''}"
        case ProgramCarrier(bank):
            return "program change" + ("" if bank is None else f" in bank {bank_number(bank)}")
        case NoteCarrier(number, release):
            return f"note {number}{', then its note off' if release else ''}"
        case PitchBendCarrier():
            return "pitch bend"
        case PressureCarrier():
            return "channel pressure"
        case SysexCarrier():
            return f"system exclusive {_template(carrier)}"


def _template(carrier: SysexCarrier) -> str:
    body = [f"{part:02X}" if isinstance(part, int) else f"<{part.value}>" for part in carrier.body]
    signed = ", signed" if carrier.signed else ""
    summed = carrier.summed
    checked = "" if summed is None else f", checksum over bytes {summed[0] + 1} to {summed[1] + 1}"
    return " ".join(["F0", *body, "F7"]) + signed + checked


def carrier_of(control: Control) -> str:
    """How the control is reached, with what else moves it."""
    said = [carried(control.carrier)]
    if control.channel != MAIN:
        said.append(f"on the channel {control.channel}")
    if control.also:
        said.append(f"moved by CC {', '.join(str(n) for n in control.also)} too")
    if control.toggle is not None:
        said.append("each press flips it")
    return ", ".join(said)


def yes(true: object) -> str:
    """`yes` or `no`."""
    return "yes" if true else "no"


def programs(given: Programs | None) -> dict[str, str]:
    """All that is said of a device's programs."""
    if given is None:
        return {"count": "none"}
    repeat = f"toggles {given.toggled}" if given.repeat is Repeat.TOGGLES else given.repeat.value
    return {
        "count": str(given.count),
        "panel": _panel(given.panel),
        "bank select": bank_select(given),
        "remap": remapped(given) or "none",
        "settle": milliseconds(given.settle_us),
        "repeat": repeat,
        "moved by the player": yes(given.moved_by_player),
        "channel": given.channel,
    }


def _panel(panel: Numbers | BanksAndSlots) -> str:
    """`the first is 1`; `banks A, B, C with 1, 2, 3 in each, such as A-1`."""
    if isinstance(panel, Numbers):
        return f"the first is {panel.first}"
    banks, slots = (", ".join(labels) for labels in (panel.banks, panel.slots))
    return f"banks {banks} with {slots} in each, such as {panel.label(0)}"


def bank_select(given: Programs) -> str:
    """`CC 0, where the bank changes, 128 programs in a bank`; `none`."""
    if given.bank is None:
        return "none"
    when = "before every program" if given.bank_always else "where the bank changes"
    return f"{BANK_SELECT[given.bank]}, {when}, {given.bank_size} programs in a bank"


def identity(given: Identity | None) -> str:
    """The reply to the Identity Request."""
    if given is None:
        return "none"
    maker = " ".join(f"{byte:02X}" for byte in given.manufacturer)
    version = "" if given.version is None else f", version {' '.join(f'{b:02X}' for b in given.version)}"
    return f"maker {maker}, family {given.family}, member {given.member}{version}"


def stores(patch: Patch) -> str:
    """`mix 35 %, time 480 ms`; `not said` where nothing is listed."""
    return ", ".join(f"{name} {stored.asked}" for name, stored in patch.stores) or "not said"


def numbered(patch: Patch) -> str:
    """`17: mix 35 %`; the number alone where nothing is said of what it stores."""
    return f"{patch.panel}: {stores(patch)}" if patch.stores else patch.panel


def store_the_same(one: Patch, other: Patch) -> bool:
    """Whether two patches are said to store the same: other words for the same value are no difference."""
    a, b = dict(one.stores), dict(other.stores)
    return a.keys() == b.keys() and all(
        str(a[name].asked) == str(b[name].asked) or a[name].gets == b[name].gets for name in a
    )


def channels(device: Device) -> str:
    """`3`; `main 3, loops 4` for a box that has several."""
    if len(device.channels) > 1:
        return ", ".join(f"{name} {channel}" for name, channel in device.channels)
    return str(device.channel)


def powers_up(device: Device) -> str:
    """How its toggles stand after power-up."""
    controls = device.definition.controls
    return ", ".join(f"{controls[n].name} {'on' if on else 'off'}" for n, on in device.powers_up) or "nothing"


def meaning(given: Meaning) -> str:
    """What a line gives one control."""
    match given:
        case Coded():
            return str(given.asked)
        case AtTempo(note):
            return str(note)
        case Chosen(patch):
            return patch.name
        case Said(value):
            return str(value)
        case AsStored():
            return "as stored"
        case AtHome():
            return "home"
        case Left():
            return "leave"
        case Fired():
            return "now"


def settings(given: tuple[Setting, ...]) -> str:
    """`gate-1.threshold -38 dB, gate-1.release 60 ms`; `nothing`."""
    return ", ".join(f"{s.target} {meaning(s.meaning)}" for s in given) or "nothing"


def stands_for(given: Words | Passed | DoneWithout) -> dict[str, str]:
    """What a name of the vocabulary stands for, by word (the empty one where it has none)."""
    match given:
        case Words(words):
            return {word: settings(brings) for word, brings in words}
        case Passed(target):
            return {"": f"handed on to {target}"}
        case DoneWithout():
            return {"": "nothing"}


def joint(given: Joint) -> str:
    """`echo.patch and reverb.patch: cliff with hall: multi.patch D4; ...`."""
    rows = [
        f"{' with '.join(meaning(v) for v in row.values)}: {settings(row.settings)}" for row in given.rows
    ]
    return "; ".join(rows)


def lines(block: Block) -> dict[str, str]:
    """A block's lines: name to text."""
    return {line.name: line.text for line in block}


def limit(rig: Rig, device: str, control: str, given: Limit) -> str:
    """`at least -30 dB, at most 0 dB`."""
    owner = rig.device(device)
    known = owner.definition.control(control) if owner is not None else None
    unit = known.scale.unit if known is not None and isinstance(known.scale, Linear) else ""
    sides = (("at least", given.least), ("at most", given.most))
    return ", ".join(f"{side} {Quantity(bound, unit)}" for side, bound in sides if bound is not None)


def mute(given: Mute) -> str:
    """`hold mixer.mute-all on, 5 ms before, 10 ms after`."""
    held = ", ".join(f"{target} {coded.asked}" for target, coded in given.holds)
    around = f"{milliseconds(given.before_us)} before, {milliseconds(given.after_us)} after"
    return f"hold {held}, {around}"


def covers(given: Mute) -> str:
    """`amp.channel and amp.patch`."""
    return " and ".join(str(target) for target in given.covers)


def controller(given: Controller) -> str:
    """Where it sends, and what."""
    sends = [
        text
        for true, text in (
            (given.programs, "programs"),
            (given.ccs, f"CC {', '.join(str(n) for n in given.ccs)}"),
            (given.notes, f"notes {', '.join(str(n) for n in given.notes)}"),
            (given.bend, "pitch bend"),
            (given.pressure, "channel pressure"),
        )
        if true
    ]
    return f"{given.port} channel {given.channel}: {', '.join(sends) or 'nothing'}"


def remapped(given: Programs) -> str:
    """`5 calls 12`, as the panel counts; empty where every program calls its own patch."""
    return ", ".join(f"{given.panel.label(a)} calls {given.panel.label(b)}" for a, b in given.remap)


def pedal(given: Pedal) -> str:
    """`rack channel 16: CC 80 from 64 on`."""
    kind = {Tread.CC: "CC", Tread.NOTE: "note", Tread.PROGRAM: "program"}[given.kind]
    least = "" if given.kind is Tread.PROGRAM else f" from {given.least} on"
    says = "" if given.releases or given.kind is Tread.PROGRAM else ", and does not say when it is let go"
    number = given.number + 1 if given.kind is Tread.PROGRAM else given.number
    return f"{given.port} channel {given.channel}: {kind} {number}{least}{says}"


def does(given: Pedal) -> str:
    """What a pedal does: `next`, `scene 3`."""
    return given.does.value if isinstance(given.does, PedalStep) else f"scene {given.does}"
