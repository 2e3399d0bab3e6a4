"""What each column of a table of limits holds, told by its heading."""

import re
from collections.abc import Sequence
from functools import lru_cache
from typing import Literal, NamedTuple

from lastbolt.reading.limit_units import scaled_unit
from lastbolt.reading.limit_words import LimitWords, plain
from lastbolt.reading.numbers import any_of
from lastbolt.words.measured import LimitSense

Role = Literal["name", "standard", "limit", "unit", "aside", ""]


class Column(NamedTuple):
    """A column: its role, the units in its heading, and the side of a number that the heading names."""

    role: Role
    units: tuple[str, ...] = ()
    sense: LimitSense = ""


@lru_cache(maxsize=4)
def _unit_in_title(words: LimitWords) -> re.Pattern[str]:
    """Units stand in brackets, behind a comma or a slash, or end the heading."""
    unit = any_of(words.spellings)
    return re.compile(
        rf"(?:(?<=[\s(\[,/|])|^)(?:{unit})(?=\s*(?:[)\],/|(\[]|$)|\s(?:{unit})(?!\w))", re.IGNORECASE
    )


def without_unit(title: str, words: LimitWords) -> str:
    """A heading's plain words without its units."""
    return plain(_unit_in_title(words).sub(" ", title.strip()))


def column_of(title: str, words: LimitWords) -> Column:
    """What a heading says of its column."""
    part = scaled_unit(title, words)
    units = tuple(
        unit for m in _unit_in_title(words).finditer(title.strip()) if (unit := words.unit(m[0])) is not None
    )
    units = (part,) if part else units
    bare = without_unit(title, words)
    low = words.pattern("heads", "at_least").search(bare) is not None
    high = words.pattern("heads", "at_most").search(bare) is not None
    sense: LimitSense = "at least" if low and not high else "at most" if high and not low else ""
    if words.pattern("heads", "of_wear").search(bare):
        sense = ""  # "max. permissible wear to": of a size that wears away it is the least
    for role in ("unit", "aside", "name"):
        if words.among(bare, "heads", role):
            return Column(_ROLES[role], units)
    for role in ("limit", "standard"):
        if words.pattern("heads", role).search(bare):
            return Column(_ROLES[role], units, sense)
    if sense:
        return Column("", units, sense)
    first = bare.split()[:1]
    if first and words.among(first[0], "heads", "name"):
        return Column("name", units)
    return Column("", units)


_ROLES: dict[str, Role] = {
    "name": "name",
    "standard": "standard",
    "limit": "limit",
    "unit": "unit",
    "aside": "aside",
}


def columns_of(titles: Sequence[str], words: LimitWords) -> list[Column]:
    """The columns of a table; "min." and "max." beside a limit are the ends of the standard, else limits."""
    found = [column_of(title, words) for title in titles]
    limited = any(column.role == "limit" for column in found)
    made: list[Column] = []
    for column in found:
        if column.role == "" and column.sense:
            made.append(column._replace(role="standard" if limited else "limit"))
        else:
            made.append(column)
    if all(column.role != "name" for column in made):
        for at, column in enumerate(made):
            if column.role == "" and not column.units:
                made[at] = Column("name")
                break
    return made


def with_second_row(titles: Sequence[str], second: Sequence[str]) -> list[str]:
    """Headings of two rows as one; an empty one goes on with the one at its left ("New |" over "mm | in")."""
    joined: list[str] = []
    above = ""
    for title, below in zip(titles, second, strict=True):
        above = title or above if below else title
        joined.append(f"{above} {below}".strip())
    return joined


def is_second_row(cells: Sequence[str], words: LimitWords) -> bool:
    """Whether a row below the headings holds nothing but units and sides: "mm", "min."."""
    said = [cell for cell in cells if cell.strip()]
    if len(said) < 2 or any(c.isdigit() for cell in said for c in cell):
        return False
    return all(words.unit(cell.strip(" ()[]")) is not None or column_of(cell, words).sense for cell in said)
