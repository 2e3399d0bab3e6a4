"""Tables of XML modules (CALS and simple tables) through the same readers as printed ones.

The readers of printed tables find columns by their headings and cite a row by its box. Here a row's box holds
nothing but its number, by which each fact gets the citation of the row's own element.
"""

from collections.abc import Iterable, Sequence
from typing import NamedTuple, TypeVar

from msgspec.structs import replace

from lastbolt.reading.bolt_table import read_bolt_table
from lastbolt.reading.limit_table import TableAt, read_limit_tables
from lastbolt.reading.manual import BookSettings
from lastbolt.reading.parts import PartsSettings, is_parts_table, rows_of_table
from lastbolt.reading.table_words import table_words
from lastbolt.reading.tables import Cell, Row, Table
from lastbolt.reading.torque_table import read_torque_table
from lastbolt.reading.xml_drafts import ModuleDraft, cite
from lastbolt.words.citation import Citation, PdfPlace
from lastbolt.words.machine import Figure, PartsRow, TableRow, TorqueRow
from lastbolt.words.measured import Limit
from lastbolt.words.problem import Problem
from lastbolt.words.tree import Element
from lastbolt.words.where import where

TABLES = ("table", "simpletable", "properties", "informaltable")
_ROWS = ("row", "strow", "property")
_HEADS = ("thead", "sthead", "prophead")
_ENTRIES = (
    "entry",
    "stentry",
    "proptype",
    "propvalue",
    "propdesc",
    "proptypehd",
    "propvaluehd",
    "propdeschd",
)
Fact = TypeVar("Fact", PartsRow, TorqueRow, TableRow, Limit)


class TableFacts(NamedTuple):
    """What the tables of a module say."""

    rows: tuple[PartsRow, ...] = ()
    torques: tuple[TorqueRow, ...] = ()
    bolt_rows: tuple[TableRow, ...] = ()
    limits: tuple[Limit, ...] = ()
    problems: tuple[Problem, ...] = ()


def facts_of_tables(tables: Iterable[Element], settings: BookSettings, name: str) -> TableFacts:
    """The parts rows, torques and fasteners that the tables of a module list.

    Args:
        tables: its table elements
        settings: the source
        name: what the module is called; parts rows of a table without figure numbers belong to it
    """
    found = TableFacts()
    for number, element in enumerate(tables, 1):
        table, elements = table_of(element)
        if table is None:
            continue
        made = _facts(table, settings, name if number == 1 else f"{name} table {number}", _titled(element))
        again = _Cited(settings, elements)
        found = TableFacts(
            (*found.rows, *again.facts(made.rows)),
            (*found.torques, *again.facts(made.torques)),
            (*found.bolt_rows, *again.facts(made.bolt_rows)),
            (*found.limits, *again.facts(made.limits)),
            (*found.problems, *again.problems(made.problems)),
        )
    return found


def take_tables(draft: ModuleDraft, tables: Iterable[Element], settings: BookSettings) -> tuple[Problem, ...]:
    """Put what the tables of a module list into its draft; what there is to tell of them."""
    found = facts_of_tables(tables, settings, draft.number or draft.key.rpartition("#")[2])
    draft.rows += found.rows
    draft.torques += found.torques
    draft.bolt_rows += found.bolt_rows
    draft.limits += found.limits
    for number in dict.fromkeys(row.figure for row in found.rows):
        legend = tuple((row.item, row.name) for row in found.rows if row.figure == number)
        draft.figures.append(
            Figure(
                f"{settings.source}/figure/{number}", number, draft.title, settings.source,
                parts_figure=True, legend=legend,
            )
        )  # fmt: skip
    if draft.holds == "text" and (found.rows or found.torques or found.bolt_rows or found.limits):
        draft.holds = "table"
    return found.problems


def table_of(element: Element) -> tuple[Table | None, list[Element]]:
    """The table with as many cells in every row as it has columns, and the element of each row.

    Cells that go over several columns or rows (CALS `namest`, `morerows`) fill them; a table without a
    heading row is none.
    """
    columns = {c.get("colname"): n for n, c in enumerate(element.below("colspec"))}
    heads = [r for h in element.below(*_HEADS) for r in (h.children(*_ROWS) or [h])]
    body = [r for r in element.below(*_ROWS) if all(r is not head for head in heads)]
    if not heads or not body:
        return None, []
    width = max(sum(_span(e, columns) for e in row.children(*_ENTRIES)) for row in (*heads, *body))
    if not 0 < width <= 60:
        return None, []
    titles = tuple(
        " ".join(dict.fromkeys(filter(None, parts)))
        for parts in zip(*_grid(heads, columns, width), strict=True)
    )
    words = table_words()
    rows = tuple(
        Row(tuple(Cell(text, 0.0, False) for text in cells), (float(number), 0.0, 0.0, 0.0))
        for number, cells in enumerate(_grid(body, columns, width))
    )
    table = Table(
        0, (float(len(body)), 0.0, 0.0, 0.0), True, titles, tuple(words.heading(t) for t in titles), rows
    )
    return table, [*body, element]


def _grid(rows: Sequence[Element], columns: dict[str, int], width: int) -> list[list[str]]:
    """The words of each cell; what goes over several rows is repeated in each."""
    waiting: dict[int, tuple[str, int]] = {}
    grid: list[list[str]] = []
    for row in rows:
        cells = [""] * width
        for column, (text, more) in list(waiting.items()):
            cells[column] = text
            waiting[column] = (text, more - 1)
        held = set(waiting)
        waiting = {column: left for column, left in waiting.items() if left[1] > 0}
        at = 0
        for entry in row.children(*_ENTRIES):
            at = columns.get(entry.get("namest", "colname"), at)
            while at in held and at < width:
                at += 1
            if at >= width:
                break
            cells[at] = entry.words()
            below = entry.get("morerows")
            if below.isdigit() and int(below) > 0:
                waiting[at] = (cells[at], int(below))
            at += _span(entry, columns)
        grid.append(cells)
    return grid


def _span(entry: Element, columns: dict[str, int]) -> int:
    first, last = columns.get(entry.get("namest")), columns.get(entry.get("nameend"))
    return max(1, last - first + 1) if first is not None and last is not None else 1


def _facts(table: Table, settings: BookSettings, name: str, title: str) -> TableFacts:
    if is_parts_table(table):
        parts = rows_of_table(
            table, PartsSettings(settings.source, settings.title, (), settings.language), (name, title)
        )
        return TableFacts(rows=parts.rows, problems=parts.problems)
    torques = read_torque_table(table, settings.source, settings.title, None, settings.language)
    bolts = read_bolt_table(table, settings.source, title or name, None, settings.language)
    limits = read_limit_tables([TableAt(table, title)], settings.source, settings.title)
    return TableFacts(
        (), torques.rows if torques is not None else (), tuple(bolts), limits.limits,
        (*(torques.problems if torques is not None else ()), *limits.problems),
    )  # fmt: skip


class _Cited:
    """Gives facts the citations of the elements that their rows are."""

    def __init__(self, settings: BookSettings, elements: Sequence[Element]) -> None:
        self.settings = settings
        self.elements = elements

    def facts(self, facts: Iterable[Fact]) -> list[Fact]:
        """The facts with their citations, also those of a torque inside."""
        made = []
        for fact in facts:
            cited = replace(fact, citations=tuple(self._one(c) for c in fact.citations))
            if isinstance(cited, TorqueRow):
                value = replace(cited.value, citations=cited.citations)
                cited = replace(cited, value=value)
            made.append(cited)
        return made

    def problems(self, problems: Iterable[Problem]) -> list[Problem]:
        """The problems with the places of their rows."""
        made = []
        for problem in problems:
            cited = tuple(self._one(c) for c in problem.citations)
            place = where(cited[0], self.settings.title) if cited else problem.where
            made.append(replace(problem, citations=cited, where=place))
        return made

    def _one(self, citation: Citation) -> Citation:
        place = citation.place
        if not isinstance(place, PdfPlace) or place.box is None:
            return citation
        return cite(self.settings.source, self.elements[int(place.box[0])], citation.words)[0]


def _titled(element: Element) -> str:
    title = element.child("title", "caption")
    return title.words() if title is not None else ""
