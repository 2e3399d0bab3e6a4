"""How long all of one answer may take: building, solving, proving, next checks."""

from collections.abc import Callable
from time import monotonic


class TimeLimit:
    """Counts from when it is made; `clock` gives seconds."""

    def __init__(self, seconds: float, clock: Callable[[], float] = monotonic) -> None:
        self.seconds = seconds
        self._clock = clock
        self._end = clock() + seconds

    def over(self) -> bool:
        """Whether the time is up."""
        return self._clock() >= self._end

    @property
    def words(self) -> str:
        """What is said when it is."""
        return f"the {self.seconds:g} s allowed for all of it ran out"
