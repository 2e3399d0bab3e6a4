"""How often and how much: what one device, or one address that guesses codes, may ask for."""

import time
from typing import NamedTuple

MOST_KNOWN = 4_096


class Pace(NamedTuple):
    """So many at once, and so many a second after that."""

    burst: float
    a_second: float


OF_A_TOKEN = Pace(200, 20)
OF_JOINING = Pace(20, 0.5)
"""For one address: a class behind one router joins at once, and six letters are not guessed at this pace."""


class Limits:
    """What is left to each, by name."""

    def __init__(self, pace: Pace) -> None:
        self._pace = pace
        self._left: dict[str, tuple[float, float]] = {}

    def take(self, name: str, now: float | None = None) -> bool:
        """Whether one more is allowed."""
        now = time.monotonic() if now is None else now
        left, then = self._left.get(name, (self._pace.burst, now))
        left = min(self._pace.burst, left + (now - then) * self._pace.a_second)
        if name not in self._left and len(self._left) >= MOST_KNOWN:
            self._left.pop(next(iter(self._left)))
        self._left[name] = (max(0.0, left - 1), now)
        return left >= 1
