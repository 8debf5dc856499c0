"""What is wrong with a stand-in rig, on demand."""

from __future__ import annotations

from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True)
class Faults:
    """`silent` devices hear nothing and say nothing, nor does what hangs behind them.

    `wrong_version` answer with another version than their definition says; `slow_ms` answer so much
    later; of `drop` messages to a port the last never arrives, 0 for none.
    """

    silent: frozenset[str] = frozenset()
    wrong_version: frozenset[str] = frozenset()
    slow_ms: dict[str, int] = field(default_factory=dict)
    drop: int = 0

    def said(self) -> tuple[str, ...]:
        """Each fault, in words."""
        lines = [f"{name} is dead, and so is what hangs behind its thru" for name in sorted(self.silent)]
        lines += [f"{name} answers with a version that is not its own" for name in sorted(self.wrong_version)]
        lines += [f"{name} answers {ms} ms late" for name, ms in sorted(self.slow_ms.items())]
        lines += [f"each port loses every message number {self.drop}"] if self.drop else []
        return tuple(lines)
