"""The shop's own lists: measuring tools and shims in stock, out of table files."""

from pathlib import Path

from lastbolt.edge.table_in import read_table
from lastbolt.edge.workbook_in import WORKBOOKS, read_workbook
from lastbolt.measuring.tools import tools_of
from lastbolt.selecting.shims import Shim
from lastbolt.selecting.stock import stock_of
from lastbolt.words.problem import Problem
from lastbolt.words.readings import ShopTool
from lastbolt.words.sheet import Sheet


def tools_from(path: Path) -> tuple[tuple[ShopTool, ...], tuple[Problem, ...]]:
    """The tools of the list; of a workbook those of all its sheets.

    Raises:
        Refusal: the file cannot be read, or holds no table.
    """
    found: list[ShopTool] = []
    told: list[Problem] = []
    for name, sheet in _sheets(path):
        tools, problems = tools_of(sheet, name)
        found += tools
        told += problems
    return tuple(found), tuple(told)


def stock_from(path: Path) -> tuple[tuple[Shim, ...], tuple[Problem, ...]]:
    """The shims of the list; of a workbook those of all its sheets.

    Raises:
        Refusal: the file cannot be read, or holds no table.
    """
    found: list[Shim] = []
    told: list[Problem] = []
    for name, sheet in _sheets(path):
        shims, problems = stock_of(sheet, name)
        found += shims
        told += problems
    return tuple(found), tuple(told)


def _sheets(path: Path) -> list[tuple[str, Sheet]]:
    if path.suffix.lower() not in WORKBOOKS:
        return [(str(path), read_table(path).sheet)]
    return [(f"{path}, sheet {one.name}", one.table.sheet) for one in read_workbook(path)]
