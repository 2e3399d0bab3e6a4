"""Which column of a parts list is what, told by its cells where no heading tells it."""

import re
import unicodedata
from collections.abc import Callable, Sequence
from itertools import pairwise

from lastbolt.reading.cell_counts import read_quantity
from lastbolt.reading.sizes import sizes_in

NUMBER = re.compile(r"(?=(?:\D*\d){4})[A-Z0-9](?:[A-Z0-9.\-/]|\s(?=\d)){3,19}")
"""What a part's number looks like: four figures or more, capitals, hyphens; no words beside it."""
_ITEM = re.compile(r"[(\[]?(?:\d{1,3}(?:[-.]\d{1,3}){0,2}-)?-?(\d{1,3})[A-Za-z]?[)\].]{0,2}")
_MOST = 0.75
"""This share of the filled cells of a column must look alike."""
_FEWEST = 3
_LONGEST_COUNT = 12
_MANY = 50
"""No list counts every part so often."""
_STEP = 3
"""Items go up by at most this from row to row."""

Rows = Sequence[Sequence[str]]


def counts_among(rows: Rows, columns: Sequence[int]) -> list[int]:
    """The columns that hold counts."""
    found = []
    for at in columns:
        cells = [row[at].strip() for row in rows if at < len(row) and row[at].strip()]
        if _share(cells, _is_count) >= _MOST and 2 * len(cells) > len(rows):
            found.append(at)
    return found


def roles_in(
    rows: Rows, known: dict[str, int] | None = None, *, several: bool = False
) -> dict[str, int] | None:
    """Role -> column of rows that read as parts: a name, a count, an item or a part number; else None.

    `known`: what headings already told; `several`: one column of counts for each variant may stand there.
    """
    roles = dict(known or {})
    columns = max((len(row) for row in rows), default=0)
    cells = [[row[at].strip() for row in rows if at < len(row) and row[at].strip()] for at in range(columns)]
    free = [
        at for at in range(columns) if at not in roles.values() and len(cells[at]) >= min(_FEWEST, len(rows))
    ]
    if "part_number" not in roles:
        numbers = [
            at for at in free if _share(cells[at], _is_number) >= _MOST and _different(cells[at]) > _MOST
        ]
        if len(numbers) == 1:
            roles["part_number"] = numbers[0]
    free = [at for at in free if at not in roles.values()]
    if "name" not in roles:
        names = [at for at in free if _share(cells[at], _is_name) >= _MOST and 2 * len(cells[at]) > len(rows)]
        if not names:
            return None
        roles["name"] = max(names, key=lambda at: (_different(cells[at]) > 0.5, sum(map(len, cells[at]))))
    free = [at for at in free if at not in roles.values()]
    if "item" not in roles:
        items = [at for at in free if goes_up(cells[at])]
        if items:
            roles["item"] = items[0]
    free = [at for at in free if at not in roles.values()]
    if "quantity" not in roles:
        counts = counts_among(rows, free)
        if not counts or (len(counts) > 1 and not several):
            return None
        roles["quantity"] = counts[0]
    if "quantity" not in (known or {}) and _is_contents(rows, roles):
        return None
    return roles if roles.keys() & {"item", "part_number"} else None


def _is_contents(rows: Rows, roles: dict[str, int]) -> bool:
    """Whether the rows are contents: what would be counts never falls, as page numbers do not."""
    counts = [int(cell) for row in rows if (cell := row[roles["quantity"]].strip()).isdecimal()]
    numbers = [
        row[roles["part_number"]] for row in rows if "part_number" in roles and row[roles["part_number"]]
    ]
    rises = len(counts) >= _FEWEST and all(a <= b for a, b in pairwise(counts)) and counts[-1] > counts[0]
    ordered = len(numbers) >= _FEWEST and numbers == sorted(numbers)
    pages = len(counts) >= _FEWEST and min(counts) >= _MANY
    return (rises and (ordered or len(counts) > 2 * _FEWEST)) or (ordered and pages)


def bare_item(text: str) -> str:
    """An item without brackets or a stop; a number in a circle as its figures."""
    return unicodedata.normalize("NFKC", text).strip("()[]. ") if text else ""


def item_of(item: str, figure: str) -> str:
    """An item without its figure's number before it: "7-1-3" of figure 7-1, and "-3", are 3."""
    plain = item.replace("−", "-").replace("–", "-")
    if figure and plain.startswith(f"{figure}-"):
        return plain[len(figure) + 1 :]
    return plain[1:] if plain[:1] == "-" and plain[1:].isdigit() else item


def item_number(text: str) -> int | None:
    """The number of an item, its last one where the figure's stands before it."""
    match = _ITEM.fullmatch(unicodedata.normalize("NFKC", text).replace("−", "-"))
    return int(match[1]) if match is not None else None


def _share(cells: Sequence[str], looks: Callable[[str], bool]) -> float:
    return sum(looks(cell) for cell in cells) / max(len(cells), 1)


def _different(cells: Sequence[str]) -> float:
    return len(set(cells)) / max(len(cells), 1)


def _is_number(cell: str) -> bool:
    return NUMBER.fullmatch(cell) is not None and not any(size.thread for size in sizes_in(cell))


def _is_name(cell: str) -> bool:
    letters, digits = sum(c.isalpha() for c in cell), sum(c.isdigit() for c in cell)
    return letters > digits and letters > 2 and NUMBER.fullmatch(cell) is None


def _is_count(cell: str) -> bool:
    return len(cell) <= _LONGEST_COUNT and (read_quantity(cell).kind != "unsaid" or cell in ("-", "–", "—"))


def goes_up(cells: Sequence[str]) -> bool:
    """Whether a column counts up from row to row, as items do; a list may be cut, an item come twice."""
    numbers = [item_number(cell) for cell in cells]
    told = [number for number in numbers if number is not None]
    if len(told) < _FEWEST or len(told) < _MOST * len(cells):
        return False
    up = sum(0 <= b - a <= _STEP for a, b in pairwise(told))
    return up >= _MOST * (len(told) - 1) and told[-1] - told[0] >= len(told) // 2
