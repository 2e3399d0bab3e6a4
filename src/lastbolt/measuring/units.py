"""From the unit on a tool to the unit that a source prints."""

from lastbolt.words.measured_units import INTO


def same_kind(one: str, other: str) -> bool:
    """Whether what is read in one unit can be told in the other.

    >>> same_kind("in", "µm"), same_kind("mm", "N")
    (True, False)
    """
    return one == other or ("" not in (one, other) and _base(one) == _base(other))


def _base(unit: str) -> str:
    return INTO.get(unit, (unit, 1.0))[0]


def told_in(value: float, unit: str, other: str) -> float:
    """A length, force or pressure in another unit of its kind; as it is where there is none. Not for degrees.

    >>> round(told_in(1.0, "in", "mm"), 3), round(told_in(0.5, "mm", "µm"), 3), told_in(2.0, "mm", "N")
    (25.4, 500.0, 2.0)
    """
    if unit == other or not same_kind(unit, other):
        return value
    return value * INTO.get(unit, (unit, 1.0))[1] / INTO.get(other, (other, 1.0))[1]
