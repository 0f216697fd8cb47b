"""When to end a search early: at a deadline, or when someone asks. Only a user's explicit wish sets either."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from time import monotonic

__all__ = ["NEVER", "Halt"]


@dataclass(slots=True, eq=False)
class Halt:
    """What every search looks at now and then; once it says so, a search ends with the best that it has.

    Parameters
    ----------
    deadline
        Reading of the monotonic clock; None for no clock.
    stop
        Asked each time; None for nobody to ask.
    """

    deadline: float | None = None
    stop: Callable[[], bool] | None = None
    _said: bool = False

    @classmethod
    def after(cls, seconds: float | None, stop: Callable[[], bool] | None = None) -> Halt:
        """A halt `seconds` from now (None: never), or when `stop` says so."""
        return cls(deadline=None if seconds is None else monotonic() + seconds, stop=stop)

    @property
    def possible(self) -> bool:
        """Whether it can come at all."""
        return self.deadline is not None or self.stop is not None

    @property
    def left(self) -> float | None:
        """Seconds to the deadline, never below 0; None for no clock."""
        return None if self.deadline is None else max(0.0, self.deadline - monotonic())

    @property
    def came(self) -> bool:
        """Whether anyone who asked was told to end."""
        return self._said

    @property
    def now(self) -> bool:
        """Whether to end now; it stays so."""
        late = self.deadline is not None and monotonic() >= self.deadline
        self._said = self._said or late or (self.stop is not None and self.stop())
        return self._said


NEVER = Halt()
