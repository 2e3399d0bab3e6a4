"""What the columns of parts lists mean, layout by layout: guessed, or said by a person, and used again."""

from typing import Literal, get_args

from msgspec import Struct

COLUMNS_SCHEMA = "lastbolt.columns/1"

Meaning = Literal[
    "name",
    "quantity",
    "item",
    "part number",
    "figure",
    "figure's title",
    "remarks",
    "size",
    "length",
    "nothing",
]
MEANINGS: dict[str, Meaning] = {name: name for name in get_args(Meaning)}
"""By their own names."""


class ColumnMeaning(Struct, frozen=True, omit_defaults=True):
    """One column: its heading as it stands in the file, and what stands in it.

    `variant`: of a count, for which variant. `nothing`: the column is left out.
    """

    column: str
    means: Meaning
    variant: str = ""


class Layout(Struct, frozen=True, omit_defaults=True):
    """A table is of this layout when its headings are these, in this order (case, points and spaces aside).

    `guessed`: no person has looked at it yet. Take the field away, or set it to false, when you have.
    """

    heads: tuple[str, ...]
    columns: tuple[ColumnMeaning, ...]
    guessed: bool = False
    first_seen_in: str = ""


class ColumnsFile(Struct, frozen=True, omit_defaults=True):
    """The file: one entry for each layout."""

    schema: str
    layouts: tuple[Layout, ...] = ()


class ColumnRead(Struct, frozen=True, omit_defaults=True):
    """What one column of a table was taken for, and why; `cells`: what stands in it, for example."""

    column: str
    means: Meaning
    why: str
    variant: str = ""
    cells: tuple[str, ...] = ()


class ColumnsRead(Struct, frozen=True):
    """The columns of one table file or sheet."""

    source: str
    heads: tuple[str, ...]
    columns: tuple[ColumnRead, ...]
