"""The shop's own list of measuring tools, out of a table."""

import re
import tomllib
from collections.abc import Iterable, Iterator
from functools import lru_cache
from importlib import resources
from typing import Any

from lastbolt.words.job import Job, ToolTaken
from lastbolt.words.problem import Problem
from lastbolt.words.readings import ShopTool
from lastbolt.words.sheet import Sheet
from lastbolt.words.standing import standing

_NUMBER = re.compile(r"[-+]?(?:\d+(?:[.,]\d+)?|[.,]\d+)")
_DATE = re.compile(r"\d{4}-\d{2}-\d{2}")


@lru_cache(maxsize=1)
def tool_words() -> dict[str, Any]:
    """The words of the language, as data."""
    return tomllib.loads((resources.files("lastbolt.measuring") / "tools.toml").read_text("utf-8"))


def unit_of(said: str) -> str:
    """The unit that a word means; "" for none that is known.

    >>> unit_of("inch"), unit_of("μm"), unit_of("furlong")
    ('in', 'µm', '')
    """
    low = said.strip().casefold()
    return next((unit for unit, names in tool_words()["units"].items() if low in names), "")


def kind_of(said: str) -> str:
    """The kind of tool that a word means; an unknown one as it is written.

    >>> kind_of("Dial indicator"), kind_of("go gauge")
    ('dial gauge', 'go gauge')
    """
    low = " ".join(said.casefold().split())
    return next((kind for kind, names in tool_words()["kinds"].items() if low in names), low)


def tools_of(sheet: Sheet, name: str) -> tuple[tuple[ShopTool, ...], tuple[Problem, ...]]:
    """The tools of a list, and what could not be understood of it.

    A number that is not understood is not known; a tool without a name is left out, and told.
    """
    at = {kind: _column(sheet.columns, words) for kind, words in tool_words()["heads"].items()}
    if at["name"] is None:
        what = f"The list of tools has no column of names: {', '.join(sheet.columns)}."
        return (), (Problem("LB-M01", what, name, 'Call the column "name".'),)
    found: dict[str, ShopTool] = {}
    told: list[Problem] = []
    for row in sheet.rows:
        place = f"{name}, line {row.line}"
        cells = {kind: _cell(row.cells, column) for kind, column in at.items()}
        made, problems = _tool(cells, place)
        told += problems
        if made is None:
            continue
        if _key(made.name) in found and found[_key(made.name)] != made:
            what = f'"{made.name}" stands twice in the list of tools, and differently; neither is used.'
            told.append(Problem("LB-M03", what, place, "Give each tool its own name."))
            found[_key(made.name)] = ShopTool(made.name, made.kind, made.unit)
            continue
        found[_key(made.name)] = made
    return tuple(found.values()), tuple(told)


def _tool(cells: dict[str, str], place: str) -> tuple[ShopTool | None, list[Problem]]:
    if not cells["name"]:
        return None, [Problem("LB-M02", "A tool of the list has no name; it is left out.", place, "Name it.")]
    told = []
    unit = unit_of(cells["unit"])
    if not unit:
        what = f'"{cells["unit"]}" is no unit of {cells["name"]} that is known here.'
        told.append(Problem("LB-M02", what, place, "Write mm, in, µm, N or bar."))
    ends = [
        _number(one) for one in _NUMBER.findall(re.sub(r"(?<=\d)\s*[-–]\s*(?=[\d.])", " ", cells["range"]))
    ]
    low, high = (min(ends), max(ends)) if len(ends) == 2 else (None, None)
    numbers = {kind: _positive(cells[kind]) for kind in ("resolution", "uncertainty")}
    wrong = [kind for kind, value in numbers.items() if cells[kind] and value is None]
    wrong += ["range"] if cells["range"] and low is None else []
    until = cells["until"][:10]
    if until and not _DATE.fullmatch(until):
        wrong.append("calibrated until")
        until = ""
    for kind in wrong:
        what = f"The {kind} of {cells['name']} is not understood and taken for not known."
        told.append(
            Problem("LB-M02", what, place, "Write a plain number, a range as 25-50, a date as 2027-03-31.")
        )
    made = ShopTool(
        cells["name"],
        kind_of(cells["kind"]),
        unit,
        low,
        high,
        numbers["resolution"],
        numbers["uncertainty"],
        until,
    )
    return made, told


def with_taken(tools: Iterable[ShopTool], job: Job | None) -> tuple[ShopTool, ...]:
    """The shop's tools, and those that the job itself names, which hold for the job."""
    found = {_key(one.name): one for one in tools}
    for _, event in standing(job):
        if isinstance(event, ToolTaken):
            found[_key(event.name)] = ShopTool(
                event.name, kind_of(event.kind), event.unit, event.low, event.high,
                _known(event.resolution), _known(event.uncertainty), event.calibrated_until,
            )  # fmt: skip
    return tuple(found.values())


def _known(value: float | None) -> float | None:
    """A step or an uncertainty is more than nothing; anything else says nothing."""
    return value if value is not None and value > 0 else None


def tool_named(name: str, tools: Iterable[ShopTool]) -> ShopTool | None:
    """The tool of that name, or the only one whose name begins so; None: it is not in the list."""
    key = _key(name)
    every = list(tools)
    exact = [one for one in every if _key(one.name) == key]
    near = exact or [one for one in every if key and _key(one.name).startswith(key)]
    return near[0] if len(near) == 1 else None


def doubts_of(tool: ShopTool, today: str) -> Iterator[str]:
    """What is to be known of a tool before its readings are trusted."""
    if not tool.listed:
        yield (
            f"{tool.name or 'The tool'} is not in the shop's list: its calibration is unknown, and its step "
            "is taken from the digits typed."
        )
        return
    if tool.calibrated_until and today and tool.calibrated_until < today:
        yield f"{tool.name}: its calibration ran out on {tool.calibrated_until}."
    elif not tool.calibrated_until:
        yield f"{tool.name}: no date of calibration is known."
    if tool.uncertainty is None:
        yield f"{tool.name}: the uncertainty of its calibration is not known and not counted."


def past_due(tool: ShopTool, today: str) -> bool:
    """Whether its calibration ran out."""
    return bool(tool.calibrated_until and today and tool.calibrated_until < today)


def _key(name: str) -> str:
    return " ".join(name.casefold().split())


def _column(columns: Iterable[str], names: Iterable[str]) -> int | None:
    heads = [" ".join(one.casefold().split()) for one in columns]
    found = [heads.index(name) for name in names if name in heads]
    near = [at for at, head in enumerate(heads) for name in names if len(name) > 1 and head.startswith(name)]
    return next(iter((*found, *near)), None)


def _cell(cells: tuple[str, ...], at: int | None) -> str:
    return " ".join(cells[at].split()) if at is not None and at < len(cells) else ""


def _number(said: str) -> float:
    return float(said.replace(",", "."))


def _positive(said: str) -> float | None:
    found = _NUMBER.findall(said)
    value = _number(found[0]) if len(found) == 1 else None
    return value if value is not None and value > 0 else None
