"""Tolerances and fits (ISO 286-1) and the clearance of ball bearings (ISO 5753-1); tables in `fits.toml`."""

import re
import tomllib
from bisect import bisect_left
from collections.abc import Sequence
from functools import lru_cache
from importlib import resources
from typing import Any, Literal

from msgspec import Struct

_CLASS = re.compile(r"\s*([A-Za-z]{1,2})\s*(01|\d{1,2})\s*")
_LARGEST_MM = 500.0
_M6_MM = (250.0, 315.0)


class Fit(Struct, frozen=True):
    """The least and the most clearance; below nothing it is interference."""

    min_um: float
    max_um: float
    kind: Literal["clearance", "transition", "interference"]
    source: str


@lru_cache(maxsize=1)
def _table() -> dict[str, Any]:
    return tomllib.loads((resources.files("lastbolt.measuring") / "fits.toml").read_text("utf-8"))


def _grade(grade: int | str) -> str:
    name = str(grade).strip().upper().removeprefix("IT")
    if name not in _table()["tolerance"]:
        raise ValueError(f"no such tolerance grade: {grade}")
    return name


def _at(row: Sequence[float], nominal_mm: float, what: str) -> float:
    """The value of a row for a size; rows are by the main ranges, or by the fine ones where they are long."""
    if not 0 < nominal_mm <= _LARGEST_MM:
        raise ValueError(f"the tables go to {_LARGEST_MM:g} mm: {nominal_mm}")
    ends = _table()["main" if len(row) <= len(_table()["main"]) else "fine"]
    place = bisect_left(ends, nominal_mm)
    if place >= len(row):
        raise ValueError(f"{what} is not in the tables for {nominal_mm:g} mm")
    return float(row[place])


def tolerance_um(nominal_mm: float, grade: int | str) -> float:
    """The standard tolerance of a grade, in micrometres.

    Args:
        nominal_mm: size, up to 500 [mm]
        grade: 7, "7" or "IT7"; from 01 to 18
    Raises:
        ValueError: outside the tables.
    Source: ISO 286-1:2010, table 1

    >>> tolerance_um(40, 7)
    25.0
    """
    name = _grade(grade)
    return _at(_table()["tolerance"][name], nominal_mm, f"IT{name}")


def deviation_um(nominal_mm: float, letter: str, grade: int | str) -> float:
    """The fundamental deviation of a tolerance class, signed, in micrometres.

    Of shafts a to h and holes J to ZC it is the upper end, of the others the lower; of js and JS +IT/2.

    Args:
        nominal_mm: size, up to 500 [mm]
        letter: of a shaft in small letters, of a hole in capitals
        grade: 7, "7" or "IT7"
    Raises:
        ValueError: outside the tables.
    Source: ISO 286-1:2010, tables 2 to 5

    >>> deviation_um(40, "g", 6), deviation_um(40, "P", 7)
    (-9.0, -17.0)
    """
    name = _grade(grade)
    if letter.lower() == "js" and letter in ("js", "JS"):
        return tolerance_um(nominal_mm, name) / 2
    if letter == letter.lower():
        return _shaft(nominal_mm, letter, name)
    if letter == letter.upper():
        return _hole(nominal_mm, letter, name)
    raise ValueError(f"no such deviation: {letter}")


def _shaft(nominal_mm: float, letter: str, grade: str) -> float:
    table = _table()
    if letter in table["below"]:
        return -_at(table["below"][letter], nominal_mm, letter) or 0.0
    if letter == "j" and grade in table["j"]:
        return _at(table["j"][grade], nominal_mm, f"j{grade}")
    if letter not in table["above"]:
        raise ValueError(f"no such deviation: {letter}{grade}")
    found = _at(table["above"][letter], nominal_mm, letter)
    if found < 0:
        raise ValueError(f"{letter} is not in the tables for {nominal_mm:g} mm")
    return found if letter != "k" or grade in ("4", "5", "6", "7") else 0.0


def _hole(nominal_mm: float, letter: str, grade: str) -> float:
    """The mirror of the shaft's; of K to ZC in fine grades raised by the step to the next finer grade."""
    table, small = _table(), letter.lower()
    if small in table["below"]:
        return -_shaft(nominal_mm, small, grade) or 0.0
    if letter == "J" and grade in table["J"]:
        return _at(table["J"][grade], nominal_mm, f"J{grade}")
    if small not in table["above"]:
        raise ValueError(f"no such deviation: {letter}{grade}")
    number = 0 if grade == "01" else int(grade)
    fine = number <= (8 if small in "kmn" else 7)
    if not fine and nominal_mm > 3 and small in "kn":
        if small == "k":
            raise ValueError(f"K{grade} is not in the tables for {nominal_mm:g} mm")
        return 0.0
    if letter == "M" and grade == "6" and _M6_MM[0] < nominal_mm <= _M6_MM[1]:
        return -9.0
    upper = -_shaft(nominal_mm, small, "6" if small == "k" else grade)
    if not fine or nominal_mm <= 3 or number < 3:
        return upper or 0.0
    return upper + tolerance_um(nominal_mm, number) - tolerance_um(nominal_mm, number - 1)


def limits_um(nominal_mm: float, tolerance_class: str) -> tuple[float, float]:
    """Lower and upper deviation of a class, in micrometres.

    >>> limits_um(25, "H7"), limits_um(25, "k6")
    ((0.0, 21.0), (2.0, 15.0))
    """
    found = _CLASS.fullmatch(tolerance_class)
    if not found:
        raise ValueError(f"no such tolerance class: {tolerance_class}")
    letter, grade = found.groups()
    width = tolerance_um(nominal_mm, grade)
    start = deviation_um(nominal_mm, letter, grade)
    if letter in ("js", "JS"):
        return -width / 2, width / 2
    small = letter.lower() in _table()["below"]
    upper = small == letter.islower()
    return (start - width, start) if upper else (start, start + width)


def fit(nominal_mm: float, hole: str, shaft: str) -> Fit:
    """What a hole and a shaft of one nominal size make together.

    >>> fit(40, "H7", "g6").kind, fit(40, "H7", "p6").max_um
    ('clearance', -1.0)
    """
    if not hole.strip()[:1].isupper() or not shaft.strip()[:1].islower():
        raise ValueError(f"a fit is a hole in capitals and a shaft in small letters: {hole}/{shaft}")
    low, high = limits_um(nominal_mm, hole)
    bottom, top = limits_um(nominal_mm, shaft)
    least, most = low - top, high - bottom
    kind: Literal["clearance", "transition", "interference"] = (
        "clearance" if least >= 0 else "interference" if most <= 0 else "transition"
    )
    return Fit(least, most, kind, str(_table()["source_fits"]))


def bearing_clearance_um(bore_mm: float, group: str) -> tuple[float, float] | None:
    """Least and most radial clearance of a deep groove ball bearing, not yet fitted; None: not in the table.

    Args:
        bore_mm: bore of the bearing [mm]
        group: "2", "N", "3", "4", "5", also as "C3", "CN", "" for normal
    Source: ISO 5753-1:2009, table 1

    >>> bearing_clearance_um(35, "C3")
    (15.0, 33.0)
    """
    table = _table()["bearings"]
    name = group.strip().upper().removeprefix("C") or "N"
    row = table.get({"0": "N"}.get(name, name))
    place = bisect_left(table["bore"], bore_mm) - 1
    if row is None or name == "BORE" or not 0 <= place < len(row) or not row[place]:
        return None
    low, high = row[place]
    return float(low), float(high)
