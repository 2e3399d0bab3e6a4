"""A list of shims in stock out of a table: which column is which."""

import re
import tomllib
from collections.abc import Iterable
from functools import lru_cache
from importlib import resources
from typing import Any

from lastbolt.selecting.shims import Shim
from lastbolt.words.problem import Problem
from lastbolt.words.sheet import Sheet

_NUMBER = re.compile(r"\d+(?:[.,]\d+)?")
_THICKEST_MM = 50.0


@lru_cache(maxsize=1)
def stock_words() -> dict[str, Any]:
    """The words of the language, as data."""
    return tomllib.loads((resources.files("lastbolt.selecting") / "words.toml").read_text("utf-8"))


def stock_of(sheet: Sheet, name: str) -> tuple[tuple[Shim, ...], tuple[Problem, ...]]:
    """The shims of a list, and the lines left out because thickness or count is not understood.

    Without a column of counts there is one of each. `uncertainty` is expanded, k = 2, as on a certificate.
    """
    words = stock_words()["heads"]
    at = {kind: _column(sheet.columns, names) for kind, names in words.items() if kind != "endless"}
    if at["thickness"] is None:
        what = f"The list of shims has no column of thicknesses: {', '.join(sheet.columns)}."
        return (), (Problem("LB-M12", what, name, 'Call the column "thickness".'),)
    found: list[Shim] = []
    told: list[Problem] = []
    for row in sheet.rows:
        cells = {kind: _cell(row.cells, column) for kind, column in at.items()}
        thick, count = _number(cells["thickness"]), _count(cells["count"], words["endless"])
        if thick is None or not 0 < thick < _THICKEST_MM or count is False:
            what = f'A shim of "{cells["thickness"]}" mm, "{cells["count"] or 1}" pieces, is left out.'
            do = "Write the thickness in mm and the count as plain numbers."
            told.append(Problem("LB-M13", what, f"{name}, line {row.line}", do))
            continue
        called = " ".join(part for part in (cells["name"], cells["number"]) if part) or f"{thick:g} mm"
        uncertain = (_number(cells["uncertainty"]) or 0.0) / 2
        if count != 0:
            found.append(Shim(called, thick, None if count is None else int(count), uncertain))
    return tuple(found), tuple(told)


def _count(said: str, endless: Iterable[str]) -> int | bool | None:
    """The count; None for as many as wanted; False when it is not understood."""
    if not said:
        return 1
    if said.casefold() in endless:
        return None
    return int(said) if said.isdecimal() else False


def _column(columns: Iterable[str], names: Iterable[str]) -> int | None:
    heads = [" ".join(re.sub(r"[()\[\]]", " ", one.casefold()).split()) for one in columns]
    return next((heads.index(name) for name in names if name in heads), None)


def _cell(cells: tuple[str, ...], at: int | None) -> str:
    return " ".join(cells[at].split()) if at is not None and at < len(cells) else ""


def _number(said: str) -> float | None:
    found = _NUMBER.findall(said)
    return float(found[0].replace(",", ".")) if len(found) == 1 else None
