"""How much the preload scatters by the way of tightening, and what friction makes of one torque."""

from msgspec import Struct

from lastbolt.threads.designation import Thread
from lastbolt.tightening.preload import preload_N


class Scatter(Struct, frozen=True):
    """How far preloads lie from the one meant, as a part of it: between +-low and +-high."""

    method: str
    low: float
    high: float
    source: str


_SOURCE = "VDI 2230-1:2003 table A8 (from memory)"
METHODS = {
    "torque wrench": (0.17, 0.23, "friction found by trials on the same joint"),
    "torque wrench, friction estimated": (0.23, 0.33, "friction class B"),
    "angle": (0.09, 0.17, "torque to seat, then angle, tried beforehand"),
    "yield": (0.09, 0.17, "driven to the yield point by an instrument"),
    "impact wrench": (0.43, 0.60, "set by a torque afterwards"),
    "length": (0.05, 0.09, "stretch measured by ultrasound"),
}


def scatter_of(method: str) -> Scatter:
    """The scatter of a way of tightening.

    Raises:
        ValueError: a way that the table does not have; its words name those it has.
    Source: VDI 2230-1, table A8.

    >>> scatter_of("torque wrench").low, scatter_of("torque wrench").high
    (0.17, 0.23)
    """
    key = " ".join(method.lower().split())
    if key not in METHODS:
        raise ValueError(f"no scatter is known for {method!r}; known: {', '.join(METHODS)}")
    low, high, how = METHODS[key]
    return Scatter(key, low, high, f"{_SOURCE}: {how}")


def preload_range_N(
    torque_Nm: float, thread: Thread, friction_low: float, friction_high: float, bearing_diameter_mm: float
) -> tuple[float, float]:
    """Smallest and largest preload of one torque, over a range of friction (the same in thread and head).

    >>> from lastbolt.threads.designation import thread_of
    >>> low, high = preload_range_N(24.6, thread_of("M8"), 0.08, 0.16, 10.3)
    >>> low < 18600 < high
    True
    """
    some, other = sorted((friction_low, friction_high))
    return (
        preload_N(torque_Nm, thread, other, other, bearing_diameter_mm),
        preload_N(torque_Nm, thread, some, some, bearing_diameter_mm),
    )
