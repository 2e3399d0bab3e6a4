"""Tables whose headings do not say that they list parts: told by their cells, or by the words above them."""

import re
import unicodedata
from collections.abc import Sequence

from lastbolt.reading.limit_words import limit_words, plain
from lastbolt.reading.loose_parts import ROLES, TAKEN
from lastbolt.reading.parts import heads_of_table, is_parts_table
from lastbolt.reading.parts_contents import counts_among, goes_up, roles_in
from lastbolt.reading.table_shape import Cell, Row, Table, text_rows
from lastbolt.reading.table_words import Heading, TableWords
from lastbolt.reading.units import torque_unit
from lastbolt.words.page import PageLayout

_OTHERS = frozenset(("torque", "limit", "tool", "work", "see", "joint", "thread"))
_NEAR = 4.0
_FEWEST = 3
_MOST = 0.75
_FIGURES = re.compile(r"\d[\d.\-–]*")
_FIRST = re.compile(r"[(\[]?(\d{1,3}[A-Za-z]?)[)\].]?\s+(?=[^\W\d_])")
_LAST = re.compile(r"\s*[(\[](\d{1,3}[A-Za-z]?)[)\]]$")
_NUMBER_LAST = re.compile(r"[\s,(]+((?=(?:\D*\d){4})[A-Z0-9][A-Z0-9.\-/]{3,19})\)?$")


def by_contents(page: PageLayout, table: Table, language: TableWords) -> Table:
    """The table with its columns told by their cells, where they read as parts; else as it is."""
    if _lists_tools(page, table):
        return table._replace(of="tool")
    if len(table.rows) < _FEWEST or _is_another(table):
        return table
    if not is_parts_table(table, language):
        table = _number_out_of_name(_told_by_cells(table, language))
    heads = heads_of_table(table)
    if heads.quantities and "name" in heads.roles and "item" not in heads.roles:
        table = _with_items(table, heads.roles["name"])
    return table


def _told_by_cells(table: Table, language: TableWords) -> Table:
    first = [cell.text for cell in table.top.cells] if table.top is not None else list(table.titles)
    rows = [[cell.text for cell in row.cells] for row in table.rows]
    if table.top is not None and sum(one is not None for one in table.headings) < 2:  # no headings at all
        roles = roles_in([first, *rows])
        if roles is not None and any(c.isdigit() for c in first[roles.get("part_number", 0)]):
            blank, body = tuple("" for _ in table.titles), (table.top, *table.rows)
            made = tuple(_role_at(at, roles) for at in range(len(first)))
            return table._replace(titles=blank, headings=made, rows=body, top=None, told=TAKEN)
    heads = heads_of_table(table)
    known = {role: at for role, at in heads.roles.items() if role in ROLES}
    if heads.quantities:
        known["quantity"] = heads.quantities[0][0]
    roles = (roles_in(rows, known, several=True) if known else None) or (
        roles_in(rows) if len(known) < 2 else None
    )
    if roles is None or ("part_number" not in roles and "item" not in known):
        return table
    taken = {at: role for role, at in roles.items() if at not in known.values()}
    if "quantity" not in known:
        idle = [at for at, one in enumerate(table.headings) if one is None and table.titles[at]]
        taken |= dict.fromkeys(
            counts_among(rows, [at for at in idle if at not in roles.values()]), "quantity"
        )
    counts = [at for at, role in taken.items() if role == "quantity"]
    made = tuple(
        Heading(taken[at], table.titles[at] if len(counts) > 1 and at in counts else "")
        if at in taken
        else one
        for at, one in enumerate(table.headings)
    )
    named = ", ".join(f'"{table.titles[at]}"' for at in sorted(taken))
    told = f"{named}: taken for what stands under it, not by the heading." if taken else ""
    new = table._replace(headings=made, told=told)
    return new if is_parts_table(new, language) else table


def _role_at(at: int, roles: dict[str, int]) -> Heading | None:
    return next((Heading(role, "") for role, column in roles.items() if column == at), None)


def _number_out_of_name(table: Table) -> Table:
    """A table whose cells of names end with the part's number ("Cover 713-3266"): with a column for it."""
    heads = heads_of_table(table)
    if ("part_number" in heads.roles and "name" in heads.roles) or not heads.quantities:
        return table
    told = heads.roles.get("name", heads.roles.get("part_number"))
    for at in range(len(table.titles)) if told is None else (told,):
        made = _parted_at(table, at)
        if made is not None:
            return made
    return table


def _parted_at(table: Table, name: int) -> Table | None:
    cells = [row.cells[name].text for row in table.rows]
    found = [_NUMBER_LAST.search(cell) for cell in cells]
    if sum(one is not None for one in found) < max(_FEWEST, _MOST * len(cells)):
        return None
    said = [
        (one[1], cell[: one.start()]) if one else ("", cell) for one, cell in zip(found, cells, strict=True)
    ]
    named = table._replace(
        headings=tuple(Heading("name", "") if at == name else one for at, one in enumerate(table.headings))
    )
    return _with_column(named, name, said, "part_number")


def _with_items(table: Table, name: int) -> Table:
    """A parts list without a column of items: they stand under no heading, or before or behind the names."""
    rows = [[cell.text for cell in row.cells] for row in table.rows]
    for at, (heading, title) in enumerate(zip(table.headings, table.titles, strict=True)):
        if heading is None and not title and goes_up([row[at] for row in rows if row[at]]):
            made = tuple(Heading("item", "") if i == at else one for i, one in enumerate(table.headings))
            return table._replace(headings=made)
    cells = [unicodedata.normalize("NFKC", row[name]) for row in rows]
    for pattern in (_FIRST, _LAST):
        found = [pattern.search(cell) if pattern is _LAST else pattern.match(cell) for cell in cells]
        numbers = [one[1] for one in found if one is not None]
        if len(numbers) >= max(_FEWEST, _MOST * len(cells)) and goes_up(numbers):
            said = [
                (one[1], f"{cell[: one.start()]}{cell[one.end() :]}".strip()) if one else ("", cell)
                for one, cell in zip(found, cells, strict=True)
            ]
            return _with_column(table, name, said, "item")
    return table


def _with_column(table: Table, name: int, said: Sequence[tuple[str, str]], role: str) -> Table:
    """The table with what stood beside its names in a column of its own, at its right end."""
    rows = []
    for row, (own, rest) in zip(table.rows, said, strict=True):
        cells = [Cell(rest, c.left, c.bold) if at == name else c for at, c in enumerate(row.cells)]
        rows.append(Row((*cells, Cell(own, row.cells[name].left, False)), row.box))
    return table._replace(
        titles=(*table.titles, ""),
        headings=(*table.headings, Heading(role, "")),
        rows=tuple(rows),
        heads=(),
        edges=(),
    )


def _is_another(table: Table) -> bool:
    """Whether the headings say that the table lists something else."""
    if any(one is not None and one.role in _OTHERS for one in table.headings):
        return True
    return any(
        torque_unit(word.strip("()[],;:")) is not None for title in table.titles for word in title.split()
    )


def _lists_tools(page: PageLayout, table: Table) -> bool:
    """Whether the words right above a table call it a list of tools."""
    left, top, right, _ = table.box
    words = limit_words()
    above = [w for w in page.words if w.bottom <= top + 0.003 and w.left < right and w.right > left]
    edge = top
    for row in reversed(text_rows(w for w in above if w.bottom > top - 0.08)[-2:]):
        if edge - row[0].bottom > _NEAR * (row[0].bottom - row[0].top):
            break
        said = plain(" ".join(word.text for word in row if not _FIGURES.fullmatch(word.text.strip(".:"))))
        if any(words.among(one, "tool", "titles") for one in (said, said.partition(" ")[2])):
            return True
        edge = row[0].top
    return False
