"""Which column of a parts list is what: by its heading; where several claim one meaning, by their cells."""

import re
from collections.abc import Iterable, Sequence
from typing import NamedTuple

from lastbolt.reading.table_words import Heading, TableWords, clean, table_words
from lastbolt.words.sheet import Sheet

_ITEM = re.compile(r"[\dA-Za-z]{1,4}(?:[-.]\d{1,3})?[a-zA-Z]?\.?")
_USED = ("item", "figure", "figure_title", "part_number", "name", "remarks", "size", "length")
_CLEARLY = 0.15
"""One column fits a meaning better than another when the shares of fitting cells differ by more than this."""
_LEAST_HEADINGS = 3
_SHOWN = 2
"""So many cells of a column that was not used are shown."""

Cells = Sequence[Sequence[str]]


class Heads(NamedTuple):
    """Which column is what: the role's column, and every quantity column with the variant it is for."""

    roles: dict[str, int]
    quantities: tuple[tuple[int, str], ...]
    more: tuple[int, ...] = ()
    """Further columns that claim to be the name and say something else than the one that was taken."""
    told: tuple[str, ...] = ()
    """Sentences on columns that claim one meaning, or were not used."""
    grave: bool = False
    """Whether these sentences speak of more than columns that nobody misses."""

    def text(self, role: str, cells: Sequence[str]) -> str:
        """The words of the role's cell in a row."""
        column = self.roles.get(role)
        return "" if column is None or column >= len(cells) else cells[column].strip()

    def further(self, cells: Sequence[str]) -> str:
        """The words of the further name columns."""
        return " ".join(filter(None, (cells[i].strip() for i in self.more if i < len(cells))))


def heads_of(
    titles: Sequence[str], headings: Sequence[Heading | None], known: Iterable[str] = (), rows: Cells = ()
) -> Heads:
    """The columns' roles; of several columns with one role the one whose cells fit it, else the first.

    Every column of quantities counts. `known`: the variants that may head a column of quantities.
    """
    claims: dict[str, list[int]] = {}
    quantities: list[tuple[int, str]] = []
    variants = {variant.lower() for variant in known}
    for index, heading in enumerate(headings):
        if heading is None:
            if titles[index].strip().lower() in variants:
                quantities.append((index, titles[index].strip()))
        elif heading.role == "quantity":
            quantities.append((index, _variant_in(titles[index], heading.rest)))
        else:
            claims.setdefault(heading.role, []).append(index)
    numbers = claims.get("item", [])
    if not quantities and len(numbers) > 1:
        quantities.append((numbers[-1], ""))  # "Item ... No.": the second number is how many
        numbers.pop()
    if len(quantities) > 1 and any(not rest for _, rest in quantities):
        quantities = [(i, rest or titles[i]) for i, rest in quantities]
    return _settled(claims, tuple(quantities), titles, rows)


def _variant_in(title: str, rest: str) -> str:
    """The variant that a heading of quantities names, as it is printed: "Qty per model 60E" is for 60E."""
    words = table_words()
    for lead in sorted(words.variant_lead, key=len, reverse=True):
        rest = rest.removeprefix(f"{lead} ") if rest != lead else rest
    length = len(rest.split())
    printed = " ".join(title.split()[-length:]).strip("()[]:,;") if length else ""
    return printed if clean(printed) == rest and any(c.isdigit() for c in printed) else rest


def heads_of_list(titles: Sequence[str], known: Iterable[str], rows: Cells, words: TableWords) -> Heads:
    """The same for a whole file that is a list; a column of names may stand under an unknown heading."""
    headings = [words.heading(title) for title in titles]
    heads = heads_of(titles, headings, known, rows)
    if any(one is not None and one.role == "name" for one in headings):
        return heads
    roles = {role: column for role, column in heads.roles.items() if role != "name"}
    if "figure_title" not in roles and any(
        one is not None and one.role == "figure_title" for one in headings
    ):
        roles["figure_title"] = next(
            i for i, one in enumerate(headings) if one and one.role == "figure_title"
        )
    guessed = _unknown_name(roles, heads.quantities, titles, rows)
    if guessed is None:
        return heads
    headings[guessed] = Heading("name", "")
    said = f'"{titles[guessed]}" was taken for the {words.meanings["name"]}, by what stands in it.'
    heads = heads_of(titles, headings, known, rows)
    return heads._replace(told=(said, *heads.told), grave=True)


def _settled(
    claims: dict[str, list[int]], quantities: tuple[tuple[int, str], ...], titles: Sequence[str], rows: Cells
) -> Heads:
    """One column for each role, what became of the others, and the sentences on it."""
    words = table_words()
    roles = {role: _best(role, columns, titles, rows, words) for role, columns in claims.items()}
    if "name" not in roles and "part_number" in roles:
        _name_from_another(roles, claims, rows)
    more: list[int] = []
    told: list[str] = []
    for role in ("name", "item"):
        for column in claims.get(role, ()):
            if column != roles[role]:
                fate = _fate(role, column, roles, rows)
                more += [column] if fate == "name" else []
                if fate in _USED and fate != "name":
                    roles[fate] = column
                if rows:
                    told.append(_both(role, titles[roles[role]], titles[column], fate, words))
    group = roles.get("figure_title")
    if "figure" not in roles and group is not None and _tells_apart(roles.get("item"), group, rows):
        roles["figure"] = group
    used = {*(roles[role] for role in _USED if role in roles), *more, *(index for index, _ in quantities)}
    idle = [i for i, title in enumerate(titles) if i not in used and _says_something(title, _cells(rows, i))]
    if idle:
        told.append(f"Not used: {', '.join(_shown(titles[i], i, rows) for i in idle)}.")
    missed = [i for i in idle if clean(titles[i]) not in words.needless]
    return Heads(roles, quantities, tuple(more), tuple(told), bool(missed) or len(told) > bool(idle))


def _best(role: str, columns: Sequence[int], titles: Sequence[str], rows: Cells, words: TableWords) -> int:
    """The claimant whose cells fit the role clearly best; of several the first whose heading is not vague."""
    if len(columns) == 1 or not rows:
        return min(columns, key=lambda i: (clean(titles[i]) in words.weak, i))
    fits = {column: _fit(role, column, rows) for column in columns}
    near = [column for column in columns if max(fits.values()) - fits[column] <= _CLEARLY]
    return min(near, key=lambda i: (clean(titles[i]) in words.weak, i))


def _fit(role: str, column: int, rows: Cells) -> float:
    """How well the cells of a column fit a role: from 0 to 1."""
    cells = _cells(rows, column)
    if role == "name":  # a part's name changes from row to row, a figure's title does not
        lettered = [cell for cell in cells if any(c.isalpha() for c in cell)]
        return len(set(lettered)) / max(len(rows), 1)
    if role == "item":
        return sum(_ITEM.fullmatch(cell) is not None for cell in cells) / max(len(rows), 1)
    return len(cells) / max(len(rows), 1)


def _name_from_another(roles: dict[str, int], claims: dict[str, list[int]], rows: Cells) -> None:
    """A list without a heading for names: the title of its groups, or the "Part" beside the "Number"."""
    if "figure_title" in roles:
        roles["name"] = roles.pop("figure_title")
        return
    columns = claims["part_number"]
    named = [column for column in columns if len(columns) > 1 and _wordy(_cells(rows, column))]
    if len(named) == 1:
        roles["name"] = named[0]
        roles["part_number"] = next(column for column in columns if column != named[0])


def _unknown_name(
    roles: dict[str, int], quantities: tuple[tuple[int, str], ...], titles: Sequence[str], rows: Cells
) -> int | None:
    """The one column under an unknown heading whose cells read as names; only where a parts list is sure."""
    if not quantities or not roles.keys() & {"item", "part_number"} or len(rows) < _LEAST_HEADINGS:
        return None
    taken = {*roles.values(), *(column for column, _ in quantities)}
    free = [i for i in range(len(titles)) if i not in taken and _wordy(_cells(rows, i))]
    fits = {column: _fit("name", column, rows) for column in free}
    group = roles.get("figure_title")
    least = max(0.5, _fit("name", group, rows) + _CLEARLY if group is not None else 0.0)
    best = [column for column in free if fits[column] >= least]
    return best[0] if len(best) == 1 else None


def _wordy(cells: Sequence[str]) -> bool:
    """Whether most cells are words rather than numbers."""
    words = sum(2 < sum(c.isalpha() for c in cell) > sum(c.isdigit() for c in cell) for cell in cells)
    return bool(cells) and words > 0.6 * len(cells)


def _fate(role: str, column: int, roles: dict[str, int], rows: Cells) -> str:
    """What a column is that claimed another's role: a role of its own, "name" beside it, or ""."""
    if role == "item":
        numbered = "part_number" not in roles and _fit("item", column, rows) < 1 - 2 * _CLEARLY
        return "part_number" if numbered and _any(rows, column) else ""
    if "figure_title" not in roles and rows and _one_for_each(roles.get("figure"), column, rows):
        return "figure_title"
    return "name"


def _one_for_each(figure: int | None, column: int, rows: Cells) -> bool:
    """Whether a column says one thing for each figure, or few things at all."""
    pairs = {(_cell(row, figure) if figure is not None else "", _cell(row, column)) for row in rows}
    pairs = {pair for pair in pairs if pair[1]}
    return bool(pairs) and 2 * len(pairs) <= len(rows)


def _tells_apart(item: int | None, group: int, rows: Cells) -> bool:
    """Whether items come again from group to group, but not within one."""
    if item is None:
        return False
    pairs: list[tuple[str, str]] = []
    under = ""
    for row in rows:
        under = _cell(row, group) or under
        if _cell(row, item):
            pairs.append((under, _cell(row, item)))
    return len(set(pairs)) == len(pairs) > len({number for _, number in pairs})


def _both(role: str, taken: str, other: str, fate: str, words: TableWords) -> str:
    meant = words.meanings.get(role, role)
    became = {
        "name": "what the other says is kept with the remarks",
        "": "the other was left out",
    }.get(fate, f"the other was taken for the {words.meanings.get(fate, fate)}")
    return f'Both "{taken}" and "{other}" can be the {meant}: "{taken}" was taken, {became}.'


def _says_something(title: str, cells: Sequence[str]) -> bool:
    """Whether a column holds more than marks: under a heading anything, without one words."""
    return bool(cells) and (bool(title.strip()) or any(sum(c.isalpha() for c in cell) > 1 for cell in cells))


def _shown(title: str, column: int, rows: Cells) -> str:
    cells = list(dict.fromkeys(_cells(rows, column)))
    examples = ", ".join(f'"{cell[:40]}"' for cell in cells[:_SHOWN])
    more = " ..." if len(cells) > _SHOWN else ""
    named = f'"{title}"' if title.strip() else "a column without a heading"
    return f"{named} ({examples}{more})"


def _cell(row: Sequence[str], column: int) -> str:
    return row[column].strip() if column < len(row) else ""


def _cells(rows: Cells, column: int) -> list[str]:
    return [cell for row in rows if (cell := _cell(row, column))]


def _any(rows: Cells, column: int) -> bool:
    return any(_cell(row, column) for row in rows)


def segments_of(sheet: Sheet, words: TableWords) -> list[Sheet]:
    """A table file cut where other headings stand among its rows."""
    found: list[Sheet] = []
    columns, begin = sheet.columns, 0
    for number, row in enumerate(sheet.rows):
        if _heads_again(row.cells, columns, words):
            found.append(Sheet(columns, sheet.rows[begin:number]))
            columns, begin = row.cells, number + 1
    found.append(Sheet(columns, sheet.rows[begin:]))
    found = [one for one in found if one.rows] or [sheet]
    found[0] = Sheet(found[0].columns, found[0].rows, sheet.above)
    return found


def _heads_again(cells: Sequence[str], titles: Sequence[str], words: TableWords) -> bool:
    """Whether a row is one of headings, other ones than the table has."""
    said = [cell.strip() for cell in cells if cell.strip()]
    if len(said) < _LEAST_HEADINGS or [clean(cell) for cell in cells] == [clean(title) for title in titles]:
        return False
    meant = [words.heading(cell) for cell in said]
    roles = {one.role for one in meant if one is not None and not one.rest}
    return all(one is not None and not one.rest for one in meant) and {"name", "quantity"} <= roles
