"""A table file as a parts list: its rows, its figures, and what is to be said about it."""

from typing import NamedTuple

from lastbolt.reading.parts import PartsSettings, figures_of_sheet, rows_of_sheet
from lastbolt.reading.parts_list import told_apart
from lastbolt.words.machine import Figure, PartsRow
from lastbolt.words.problem import Problem
from lastbolt.words.sheet import Sheet


class Listed(NamedTuple):
    """What a table file says."""

    rows: tuple[PartsRow, ...]
    figures: tuple[Figure, ...]
    problems: tuple[Problem, ...]


def read_list(sheet: Sheet, settings: PartsSettings) -> Listed:
    """The rows of the table, told apart where two have one name."""
    parts = rows_of_sheet(sheet, settings)
    return Listed(tuple(told_apart(parts.rows)), figures_of_sheet(sheet, settings), parts.problems)
