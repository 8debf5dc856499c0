"""Controllers: who else feeds a port, and what they can send."""

from __future__ import annotations

from switchmatrix.bind.devices import bind_port
from switchmatrix.bind.fields import Fields, whole
from switchmatrix.bind.naming import name
from switchmatrix.diagnostics import names
from switchmatrix.diagnostics.diagnostic import Diagnostic
from switchmatrix.midi.numbers import ChannelNumber
from switchmatrix.model.rig import Controller
from switchmatrix.syntax.nodes import Mapping, Scalar


def bind_controllers(fields: Fields, found: list[Diagnostic]) -> tuple[Controller, ...]:
    """The section `controllers`."""
    controllers = []
    for key, node in fields.each("controllers"):
        if name(key, "a controller", found) is None or not isinstance(node, Mapping):
            continue
        controller = Fields(node, found)
        port, channel = bind_port(controller, fields), controller.whole("channel", 1, 16)
        sends = controller.block("sends")
        if port is None or channel is None or sends is None:
            continue
        controllers.append(
            Controller(
                name=key.text,
                port=port,
                channel=ChannelNumber(channel),
                programs=sends.yes("programs"),
                ccs=_numbers(sends, "cc", "the CC number"),
                span=key.span,
                notes=_numbers(sends, "notes", "the note"),
                bend=sends.yes("pitch-bend"),
                pressure=sends.yes("channel-pressure"),
            )
        )
    return tuple(controllers)


def _numbers(sends: Fields, key: str, what: str) -> tuple[int, ...]:
    """Numbers and ranges of numbers: `[64, 80-85]`."""
    numbers: list[int] = []
    for scalar in sends.scalars(key):
        parts = [Scalar(part.strip(), scalar.span) for part in scalar.text.split("-")]
        bounds = [whole(part, 0, 127, what, sends.found) for part in parts]
        low, high = bounds[0], bounds[-1]
        if low is None or high is None:
            continue
        if low > high:
            of = {"cc": "CC numbers", "notes": "notes"}[key]
            message = f"the {of} {scalar.text} run backwards"
            sends.found.append(names.BAD_VALUE.at(scalar.span, message, f"write `{high}-{low}`"))
        numbers += range(low, high + 1)
    return tuple(numbers)
