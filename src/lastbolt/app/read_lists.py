"""A table file as a parts list: what its columns mean, its rows, its figures, what is to be said about it."""

from collections.abc import Sequence
from typing import NamedTuple

from msgspec.structs import replace

from lastbolt.reading.column_memory import understood
from lastbolt.reading.parts import PartsSettings, figures_of_sheet, rows_of_sheet
from lastbolt.reading.parts_list import told_apart
from lastbolt.words.citation import CellPlace, Citation
from lastbolt.words.columns import ColumnsRead, Layout
from lastbolt.words.machine import Figure, PartsRow
from lastbolt.words.problem import Problem
from lastbolt.words.sheet import Sheet

ANSWER = "Or say what each column is in a file for --columns, and read it again with that"


class Listed(NamedTuple):
    """What a table file says, what its columns were taken for, and its layout to be remembered."""

    rows: tuple[PartsRow, ...]
    figures: tuple[Figure, ...]
    problems: tuple[Problem, ...]
    columns: ColumnsRead
    layout: Layout


def read_list(sheet: Sheet, settings: PartsSettings, layouts: Sequence[Layout] = ()) -> Listed:
    """The rows of the table, told apart where two have one name; `layouts`: what is remembered of columns."""
    meant = understood(sheet, settings.title, settings.variants, layouts)
    parts = rows_of_sheet(meant.sheet, settings)
    rows = told_apart(parts.rows)
    if meant.sheet is not sheet:
        rows = [replace(row, citations=_as_headed(row.citations, meant.name)) for row in rows]
    problems = (*meant.problems, *(_with_answer(problem) for problem in parts.problems))
    columns = ColumnsRead(settings.source, sheet.columns, meant.columns)
    return Listed(tuple(rows), figures_of_sheet(meant.sheet, settings), problems, columns, meant.layout)


def _as_headed(citations: Sequence[Citation], name: str) -> tuple[Citation, ...]:
    """Places with the column's heading as it stands in the file."""
    return tuple(
        replace(cite, place=replace(cite.place, column=name)) if isinstance(cite.place, CellPlace) else cite
        for cite in citations
    )


def _with_answer(problem: Problem) -> Problem:
    """Columns that nobody can tell: a person may say what they are."""
    return replace(problem, do=f"{problem.do} {ANSWER}.") if problem.code == "LB-P02" else problem
