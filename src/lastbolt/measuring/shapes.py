"""What readings of one shape tell: taper, ovality, runout, float, warp (common practice, no source)."""

from collections.abc import Sequence
from itertools import pairwise
from statistics import mean

from msgspec import Struct


class BoreReadings(Struct, frozen=True):
    """Diameters at heights (outer) and axes (inner), all in one unit; `new`: its size when new."""

    values: tuple[tuple[float, ...], ...]
    new: float | None = None

    @property
    def taper(self) -> float:
        """The largest difference over the heights along one axis."""
        return float(max(max(axis) - min(axis) for axis in zip(*self.values, strict=True)))

    @property
    def ovality(self) -> float:
        """The largest difference over the axes at one height."""
        return max(max(height) - min(height) for height in self.values)

    @property
    def largest(self) -> float:
        """The largest reading."""
        return max(max(height) for height in self.values)

    @property
    def smallest(self) -> float:
        """The smallest reading."""
        return min(min(height) for height in self.values)

    @property
    def mean(self) -> float:
        """The mean of all readings."""
        return mean(one for height in self.values for one in height)

    @property
    def largest_wear(self) -> float:
        """The largest reading less the size when new, or less the smallest reading."""
        return self.largest - (self.smallest if self.new is None else self.new)


def runout(readings: Sequence[float]) -> float:
    """Total indicator reading: the largest less the smallest."""
    return max(readings) - min(readings)


def end_float(pushes: Sequence[float | tuple[float, float]]) -> float:
    """The mean travel; each push is a travel, or the readings at its two ends."""
    return mean(abs(one[1] - one[0]) if isinstance(one, tuple) else one for one in pushes)


def backlash(rocks: Sequence[float | tuple[float, float]]) -> float:
    """The mean play of teeth, rocked to and fro at several places round."""
    return end_float(rocks)


def warp(feelers: Sequence[float]) -> float:
    """The thickest feeler that goes under the straight edge anywhere."""
    return max(feelers, default=0.0)


def oil_clearance(bore: float, journal: float) -> float:
    """By difference; negative: the journal is larger than its bore."""
    return bore - journal


def crush_strip(width: float, scale: Sequence[tuple[float, float]]) -> float | None:
    """The clearance by the packet's scale of (width, clearance); off the scale None."""
    for (wide, at_wide), (next_wide, at_next) in pairwise(sorted(scale)):
        if wide <= width <= next_wide:
            share = 0.0 if wide == next_wide else (width - wide) / (next_wide - wide)
            return at_wide + share * (at_next - at_wide)
    return None


def case_depth(readings: Sequence[float], bar: float = 0.0) -> float:
    """The mean depth below the face, less the bar that lies on it."""
    return mean(readings) - bar
