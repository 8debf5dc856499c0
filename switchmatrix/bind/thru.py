"""Which device feeds which: a chain from thru to thru."""

from __future__ import annotations

from switchmatrix.bind.fields import Fields
from switchmatrix.diagnostics import names
from switchmatrix.diagnostics.nearest import did_you_mean
from switchmatrix.syntax.nodes import Scalar


def bind_thru(device: Scalar, fields: Fields, rig: Fields) -> str | None:
    """The device whose thru feeds this one; None where the port does, or where that one was left out."""
    scalar = fields.scalar("thru-of")
    if scalar is None or rig.broken("devices"):
        return None
    known = [key.text for key, _ in rig.each("devices")]
    if scalar.text not in known:
        if scalar.text not in [key.text for key, _ in rig.each("absent")]:
            help = did_you_mean(scalar.text, [name for name in known if name != device.text], "devices")
            message = f"no device is called `{scalar.text}`, so no thru of it feeds `{device.text}`"
            fields.found.append(names.UNKNOWN_NAME.at(scalar.span, message, help))
        return None
    wrong = _wrong(device.text, scalar.text, rig)
    if wrong is not None:
        message, help = wrong
        fields.found.append(names.BAD_VALUE.at(scalar.span, message, help))
        return None
    return scalar.text


def _wrong(device: str, feeder: str, rig: Fields) -> tuple[str, str] | None:
    """What is wrong with the chain above a device, and what to do."""
    devices = rig.block("devices")
    above: list[str] = []
    at: str | None = feeder
    while at is not None and at not in above and devices is not None:
        above.append(at)
        block = devices.block(at)
        at = None if block is None else block.text("thru-of")
    if at is not None and device in above:
        message = f"`{device}` is fed by its own thru, in a circle: {', '.join((*above, at))}"
        return message, "take `thru-of` from the device that the port itself feeds"
    mine, other = (None if devices is None else devices.block(name) for name in (device, feeder))
    ports = [None if block is None else block.text("port") for block in (mine, other)]
    if None not in ports and ports[0] != ports[1]:
        message = f"`{device}` hangs on `{ports[0]}` and `{feeder}` on `{ports[1]}`: no thru leads across"
        return message, "give both the port that their chain begins at"
    return None
