"""A device's controls while it hears: codes, halves of codes, presses."""

from __future__ import annotations

from switchmatrix.simulate.part import Role
from switchmatrix.simulate.registers import NOT_KNOWN
from switchmatrix.simulate.standing import UNKNOWN, DeviceNow, Half, Halves, Moved, Standing
from switchmatrix.simulate.unit import Unit


class ControlsNow:
    """A device's state, opened for writing. A method with `value` is what one message does.

    Its first two numbers say to what: a control by index, or a channel's row and more.
    `moved` collects the controls that moved, by index; `noted` is whether anything waits for more.
    """

    __slots__ = (
        "controls",
        "edited",
        "fired",
        "moved",
        "noted",
        "parts",
        "patch",
        "pending",
        "registers",
        "unit",
    )

    def __init__(self, unit: Unit, now: DeviceNow) -> None:
        self.unit, self.parts = unit, unit.parts
        self.patch = now.patch
        self.controls: list[Standing] = list(now.controls)
        self.registers, self.pending = list(now.registers), list(now.pending)
        self.edited = now.edited
        self.fired = now.fired
        self.moved: list[int] = []
        self.noted = False

    def now(self) -> DeviceNow:
        """The state as it has become."""
        return DeviceNow(
            self.patch,
            tuple(self.controls),
            tuple(self.registers),
            tuple(self.pending),
            self.edited,
            self.fired,
        )

    def take(self, n: int, _: int, value: int) -> None:
        """Control `n` gets a whole code."""
        part = self.parts[n]
        if part.role is Role.STANDS:
            self.put(n, value)
        elif part.role is Role.FLIPS:
            self._press(n, value)
        else:
            # Boxes differ in which values set a trigger off: only at its own code is it sure.
            self._fire(n, value if part.fires_at(value) else None)

    def strike(self, n: int, _: int, value: int) -> None:
        """A key: velocity 0 lets it go (MIDI 1.0 Detailed Specification 4.2.1, p. 10)."""
        if value:
            self.take(n, 0, value)
        else:
            self.let_go(n, 0, 0)

    def let_go(self, n: int, _: int, value: int) -> None:  # noqa: ARG002
        """A key is let go, which means something where off is so."""
        if self.parts[n].lets_go:
            self.put(n, 0)

    def shift(self, n: int, cc: int, _: int) -> None:
        """A control change that moves the control and carries no code of it."""
        if self.parts[n].role is Role.FIRES:
            self._fire(n, None)
        else:
            self.put(n, Moved(cc))

    def upper(self, n: int, _: int, value: int) -> None:
        """The upper half of a 14-bit code."""
        pending = self.parts[n].pending
        if pending is not None:
            self.pending[pending] = value
            self.noted = True
            return
        stands = self.controls[n]
        lower: int | None = 0
        if self.unit.halves is Halves.KEPT:
            lower = stands.lower if isinstance(stands, Half) else None
            lower = stands % 128 if isinstance(stands, int) else lower
        self.put(n, Half(value, None) if lower is None else value * 128 + lower)

    def lower(self, n: int, _: int, value: int) -> None:
        """The lower half of a 14-bit code; the upper one stays."""
        pending = self.parts[n].pending
        if pending is None:
            stands = self.controls[n]
            upper = stands.upper if isinstance(stands, Half) else None
            upper = stands // 128 if isinstance(stands, int) else upper
            self.put(n, Half(None, value) if upper is None else upper * 128 + value)
        elif self.pending[pending] == NOT_KNOWN:
            self.lose(n)
        else:
            self.take(n, 0, self.pending[pending] * 128 + value)

    def put(self, n: int, standing: Standing) -> None:
        """The control stands there, and what it resets is reloaded."""
        part = self.parts[n]
        self.controls[n] = standing
        self.moved.append(n)
        self.edited |= 1 << n
        for below in part.below:
            self.controls[below] = UNKNOWN if standing is UNKNOWN else part.reloaded
            self.moved.append(below)
            self.edited |= 1 << below

    def lose(self, n: int) -> None:
        """The message may have moved the control, and may not."""
        if self.parts[n].role is Role.FIRES:
            self._fire(n, None)
        else:
            self.put(n, UNKNOWN)

    def unsure(self, n: int, _: int, value: int) -> None:  # noqa: ARG002
        """A message that a box may pass over, or not."""
        self.lose(n)

    def _fire(self, n: int, code: int | None) -> None:
        self.fired += ((n, code),)
        self.moved.append(n)

    def _press(self, n: int, value: int) -> None:
        """A press flips, a release does nothing; what another value does, nobody has said."""
        part = self.parts[n]
        toggle = part.control.toggle
        if toggle is None or value not in (toggle.press, toggle.release):
            self.lose(n)
        elif value == toggle.press:
            self.put(n, part.flipped(self.controls[n]))
