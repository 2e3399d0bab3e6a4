"""Tables of torques whose headings are threads: a row for each unit, class or state."""

from collections.abc import Callable
from typing import NamedTuple

from lastbolt.reading.lexicon import Lexicon
from lastbolt.reading.table_shape import Table
from lastbolt.reading.torque_columns import is_bare, unit_in
from lastbolt.reading.torque_conditions import condition_of, heads_no_torques

_FEWEST = 2


class Turned(NamedTuple):
    """The torque of one thread in all its units, and the condition that its row names."""

    heading: str
    said: str
    condition: str


def turned_rows(
    table: Table, beside: str, lex: Lexicon, unit_of: Callable[[str], str | None]
) -> list[Turned]:
    """The torques under headings that are threads; rows of one condition and another unit are one torque."""
    heads = enumerate(table.headings)
    threads = [(at, head.rest) for at, head in heads if head is not None and head.role == "thread"]
    if len(threads) < _FEWEST or threads[0][0] == 0:
        return []
    titled = any(word in beside.lower() for word in lex.words("titles", "torque_table"))
    given = unit_in(beside) if titled else None
    by_condition: dict[str, list[tuple[str | None, tuple[str, ...]]]] = {}
    for row in table.rows:
        name = " ".join(cell.text.strip() for cell in row.cells[: threads[0][0]]).strip()
        unit = unit_of(name) or given
        cells = tuple(row.cells[at].text.strip() for at, _ in threads)
        if not heads_no_torques(name) and unit is not None and any(is_bare(cell) for cell in cells):
            by_condition.setdefault(condition_of(name), []).append((unit, cells))
    found: list[Turned] = []
    for condition, lines in by_condition.items():
        for at, (_, heading) in enumerate(threads):
            parts = [f"{cells[at]} {unit}" for unit, cells in lines if any(c.isdigit() for c in cells[at])]
            said = parts[0] + "".join(f" ({part})" for part in parts[1:]) if parts else ""
            found += [Turned(heading, said, condition)] if said else []
    return found
