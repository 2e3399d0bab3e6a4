"""Tables of special tools ("Number | Name | Used for") and of consumables ("Lubricant | Where | Amount")."""

from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple

from msgspec.structs import replace

from lastbolt.reading.drafts import slug
from lastbolt.reading.limit_columns import column_of, without_unit
from lastbolt.reading.limit_table import TableAt
from lastbolt.reading.limit_words import LimitWords, limit_words
from lastbolt.reading.measured_values import values_in
from lastbolt.reading.supplies import consumable_entry
from lastbolt.reading.tables import Row
from lastbolt.words.citation import Citation, PdfPlace, rounded
from lastbolt.words.measured import Span
from lastbolt.words.supplies import Consumable, Tool


class Supplies(NamedTuple):
    """What a source's tables of tools and consumables list."""

    consumables: tuple[Consumable, ...] = ()
    tools: tuple[Tool, ...] = ()


def read_supply_tables(tables: Iterable[TableAt], source: str) -> Supplies:
    """The tools and consumables that tables list; other tables give nothing."""
    words = limit_words()
    consumables: dict[str, Consumable] = {}
    tools: dict[str, Tool] = {}
    for at in tables:
        titles = [without_unit(title, words) for title in at.table.titles]
        if _is_of("tool", titles, at.beside, words):
            for tool in _tools(at, titles, source, words):
                tools.setdefault(tool.id, tool)
        elif _is_of("consumable", titles, at.beside, words):
            for one in _consumables(at, titles, source, words):
                consumables.setdefault(one.id, one)
    return Supplies(tuple(consumables.values()), tuple(tools.values()))


def _is_of(kind: str, titles: Sequence[str], beside: str, words: LimitWords) -> bool:
    marked = any(words.among(title, kind, "marks") for title in titles)
    return marked or any(words.among(part, kind, "titles") for part in _called(beside))


def _called(beside: str) -> list[str]:
    """The words beside a table, each without its number: "Table 2-1 Special tools"."""
    parts = beside.split("|")
    bare = [" ".join(w for w in part.split() if not any(c.isdigit() for c in w)) for part in parts]
    return [*bare, *(part.partition(" ")[2] for part in bare)]


def _first(
    titles: Sequence[str], table: str, key: str, words: LimitWords, but: int | None = None
) -> int | None:
    return next((at for at, one in enumerate(titles) if at != but and words.among(one, table, key)), None)


def _tools(at: TableAt, titles: Sequence[str], source: str, words: LimitWords) -> Iterator[Tool]:
    number = _first(titles, "tool", "numbers", words)
    name = _first(titles, "tool", "heads", words, number)
    use = _first(titles, "tool", "uses", words, number)
    if number is None or name is None:
        return
    for row in at.table.rows:
        said, called = row.cells[number].text.strip(), row.cells[name].text.strip()
        if not called or not any(c.isdigit() for c in said):
            continue
        cite = _cite(row, at, source)
        used = row.cells[use].text.strip() if use is not None and use != name else ""
        yield Tool(f"{source}/tool/{slug(said)}", called, said, used, cite.words, (cite,))


def _consumables(at: TableAt, titles: Sequence[str], source: str, words: LimitWords) -> Iterator[Consumable]:
    name = _first(titles, "consumable", "heads", words)
    amount = _first(titles, "consumable", "amounts", words, name)
    use = _first(titles, "consumable", "uses", words, name)
    if name is None or (amount is None and use is None):
        return
    for row in at.table.rows:
        called = row.cells[name].text.strip()
        if not called:
            continue
        cite = _cite(row, at, source)
        used = row.cells[use].text.strip() if use is not None and use != amount else ""
        identity = f"{source}/consumable/{slug(f'{called} {used}')}"
        known = consumable_entry(called, identity, (cite,), used)
        one = known or Consumable(identity, called, "other", used_for=used, citations=(cite,))
        column = at.table.titles[amount] if amount is not None else ""
        span, how = _amount(row.cells[amount].text if amount is not None else "", column, words)
        yield replace(one, name=called, amount=span or one.amount, how=how, words=cite.words)


def _amount(cell: str, title: str, words: LimitWords) -> tuple[Span | None, str]:
    """The amount of a cell with the unit of its heading where it prints none; words where it is no number."""
    values = [value for value in values_in(cell, "", words) if value.understood]
    if len(values) != 1:
        return None, cell.strip(" –—-")
    units = column_of(title, words).units
    span = values[0].span
    unit = span.unit or (units[0] if len(units) == 1 else "")
    return (Span(span.low, span.high, unit), "") if unit else (None, cell.strip())


def _cite(row: Row, at: TableAt, source: str) -> Citation:
    place = PdfPlace(at.table.pdf_page, at.printed_page, rounded(row.box))
    return Citation(source, place, " | ".join(cell.text for cell in row.cells if cell.text))
