"""What a proof has shown, and what it could not show."""

from __future__ import annotations

from dataclasses import dataclass, field, replace


@dataclass(frozen=True, slots=True)
class Counterexample:
    """A device that does not come to the scene's state.

    `before` is the scene that the rig comes from, None from unknown; from `more` others it fails alike.
    `control` is None for the patch. `wanted` and `got` are as the simulator has them, or what is wrong
    is said by `because` alone. `data` are the bytes that the device was sent, in messages.
    """

    before: str | None
    after: str
    device: str
    control: str | None
    wanted: object
    got: object
    data: tuple[bytes, ...]
    because: str = ""
    more: int = 0


@dataclass(slots=True)
class Failed:
    """Counterexamples by what they are about: one of each in full, from unknown if it fails from there."""

    first: dict[tuple[object, ...], Counterexample] = field(default_factory=dict)
    befores: dict[tuple[object, ...], set[str | None]] = field(default_factory=dict)

    def add(self, about: tuple[object, ...], counter: Counterexample) -> None:
        """One more."""
        befores = self.befores.setdefault(about, set())
        if not befores or (counter.before is None and None not in befores):
            self.first[about] = counter
        befores.add(counter.before)

    def told(self) -> tuple[Counterexample, ...]:
        """Each with how many more there are."""
        return tuple(replace(one, more=len(self.befores[about]) - 1) for about, one in self.first.items())


@dataclass(frozen=True, slots=True)
class DeviceProof:
    """One device (or devices that hear each other, `joint`): its distinct states, and pairs gone through."""

    devices: tuple[str, ...]
    joint: bool
    states: int
    pairs: int
    failed: tuple[Counterexample, ...]


@dataclass(frozen=True, slots=True)
class RunProof:
    """A leg on a rig: `states` distinct states of the whole rig, every ordered pair, and from unknown."""

    leg: str
    rig: str
    states: int
    devices: tuple[DeviceProof, ...]
    triggers: tuple[Counterexample, ...]

    @property
    def pairs(self) -> int:
        """Ordered pairs of the rig's states, and each state from unknown."""
        return self.states * self.states + self.states

    @property
    def failed(self) -> tuple[Counterexample, ...]:
        """Everything that could not be shown."""
        return (*(one for device in self.devices for one in device.failed), *self.triggers)
