"""The data files of this package, read once, and the two ways in which their sizes are written."""

import tomllib
from fractions import Fraction
from functools import lru_cache
from importlib import resources
from typing import Any

INCH_MM = 25.4


@lru_cache(maxsize=8)
def table(name: str) -> dict[str, Any]:
    """The content of one data file of this package."""
    return tomllib.loads((resources.files("lastbolt.threads") / f"{name}.toml").read_text("utf-8"))


def rows(section: dict[str, Any]) -> dict[str, Any]:
    """A table without the line that says where it is from."""
    return {key: value for key, value in section.items() if key != "source"}


def key_of(value: float) -> str:
    """How a diameter or pitch stands in the data files.

    >>> key_of(8.0), key_of(1.25)
    ('8', '1.25')
    """
    return f"{value:g}"


def inches(size: str) -> float:
    """The diameter of an inch size: a number size, a fraction, or a mixed number.

    >>> inches("#10"), inches("1 1/8"), inches("7/16")
    (0.19, 1.125, 0.4375)
    """
    if size.startswith("#"):
        return round(0.060 + 0.013 * int(size[1:]), 3)
    return float(sum(Fraction(part) for part in size.split()))
