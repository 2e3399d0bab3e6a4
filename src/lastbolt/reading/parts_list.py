"""A parts list page by page: tables under their figures, callouts tied to rows."""

from collections.abc import Sequence

import msgspec

from lastbolt.reading.figures import Caption, FoundFigure
from lastbolt.reading.parts import (
    Parts,
    PartsSettings,
    columns_told,
    heads_of_table,
    is_parts_table,
    rows_of_table,
)
from lastbolt.reading.table_words import table_words
from lastbolt.reading.tables import Table
from lastbolt.words.citation import Box, Citation
from lastbolt.words.machine import Figure, PartsRow
from lastbolt.words.problem import Problem
from lastbolt.words.where import where

_LEAST_WORDS = 2


class PartsReader:
    """Takes the pages of a source in order and gives its parts rows and parts figures."""

    def __init__(self, settings: PartsSettings) -> None:
        self._settings = settings
        self._under = ("", "")
        self._rows: list[PartsRow] = []
        self._figures: dict[str, Figure] = {}
        self._tied: set[str] = set()
        self._told: set[tuple[str, ...]] = set()
        self._problems: list[Problem] = []

    def add_page(
        self,
        tables: Sequence[Table],
        figures: Sequence[FoundFigure],
        printed_page: str | None = None,
        captions: Sequence[Caption] = (),
    ) -> None:
        """Take in one page: its tables, its figures, and the captions that have no drawing."""
        for found in figures:
            known = self._figures.get(found.figure.number)
            if known is None or not known.callouts:
                self._figures[found.figure.number] = found.figure
        named = [(f.caption.number, f.caption.title, f.caption.box) for f in figures]
        drawn = {number for number, _, _ in named}
        named += [(c.number, c.title, c.box) for c in captions if c.number not in drawn]
        for table in tables:
            if is_parts_table(table):
                self._add_table(table, named, printed_page)
        if named:
            last = max(named, key=lambda entry: entry[2][1])
            self._under = (last[0], last[1])

    def _add_table(
        self, table: Table, named: Sequence[tuple[str, str, Box]], printed_page: str | None
    ) -> None:
        above = [entry for entry in named if entry[2][1] <= table.box[1]]
        if above:
            nearest = max(above, key=lambda entry: (_over(entry[2], table.box), entry[2][1]))
            self._under = (nearest[0], nearest[1])
        elif len(named) == 1 and named[0][0] != self._under[0] and not self._tied:
            self._under = (named[0][0], named[0][1])
        titled = _caption_in(table.above)
        parts = rows_of_table(table, self._settings, titled or self._under, printed_page)
        if (*table.titles, table.told) not in self._told and parts.rows:
            self._told.add((*table.titles, table.told))
            place = where(parts.rows[0].citations[0], self._settings.title)
            heads = heads_of_table(table, self._settings.variants)
            told = (table.told, *heads.told) if table.told else heads.told
            self._problems += columns_told(heads._replace(told=told), place)
        self._tied.add(self._under[0])
        self._rows += parts.rows
        self._problems += parts.problems

    def finish(self) -> tuple[Parts, tuple[Figure, ...]]:
        """All rows, the figures that rows belong to, and where callouts and rows do not meet."""
        rows = tuple(told_apart(self._rows))
        numbers = {row.figure for row in rows}
        figures = tuple(
            msgspec.structs.replace(figure, parts_figure=True)
            for number, figure in self._figures.items()
            if number in numbers
        )
        problems = [*self._problems, *callout_problems(figures, rows, self._settings)]
        return Parts(rows, tuple(problems)), figures


def _caption_in(said: str) -> tuple[str, str] | None:
    """The figure's number and title in the first row of a table: "Figure 7-1. COVER"."""
    words = said.split()
    if len(words) < _LEAST_WORDS or words[0].lower().rstrip(".") not in table_words().figure_lead:
        return None
    number = words[1].strip(".:,;()—–-")
    return (number, " ".join(words[2:]).lstrip(".:—–- ")) if any(c.isdigit() for c in number) else None


def _over(caption: Box, table: Box) -> bool:
    """Whether the middle of a caption stands over the table and not beside it."""
    return table[0] <= (caption[0] + caption[2]) / 2 <= table[2]


def told_apart(rows: Sequence[PartsRow]) -> list[PartsRow]:
    """The rows with repeated ids told apart by their occurrence."""
    seen: dict[str, int] = {}
    told = []
    for row in rows:
        bare = row.id.partition("+")[0]
        seen[bare] = seen.get(bare, 0) + 1
        new = bare if seen[bare] == 1 else f"{bare}+{seen[bare]}"
        told.append(row if new == row.id else msgspec.structs.replace(row, id=new))
    return told


def callout_problems(
    figures: Sequence[Figure], rows: Sequence[PartsRow], settings: PartsSettings
) -> list[Problem]:
    """Callouts that the table lacks, and rows whose item the drawing lacks."""
    problems = []
    for figure in figures:
        if not figure.callouts or figure.place is None:
            continue
        drawn = {callout.number for callout in figure.callouts}
        mine = [row for row in rows if row.figure == figure.number and row.item]
        listed = {row.item for row in mine}
        cite = Citation(settings.source, figure.place, f"Figure {figure.number} {figure.title}".strip())
        place = where(cite, settings.title)
        for number in sorted(drawn - listed, key=_as_number):
            what = f"Figure {figure.number} shows callout {number}, but its table has no such item."
            do = "Look at the drawing; if it is a fastener, find out what it is and how many."
            problems.append(Problem("LB-P03", what, place, do, citations=(cite,)))
        missing = [row for row in mine if row.item not in drawn]
        for row in missing:
            what = f'Item {row.item} of figure {figure.number} ("{row.name}") has no callout in the drawing.'
            do = "Look where it goes; the drawing does not show it, or its number was not seen."
            problems.append(Problem("LB-P04", what, place, do, "note", row.citations))
    return problems


def _as_number(text: str) -> tuple[int, str]:
    digits = "".join(c for c in text if c.isdecimal())
    return (int(digits) if digits else 0, text)
