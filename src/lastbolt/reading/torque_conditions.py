"""When a torque of a table holds: strength classes, dry or oiled, first or second stage."""

import re
from collections.abc import Iterator, Sequence
from functools import lru_cache
from typing import NamedTuple

from lastbolt.reading.numbers import any_of
from lastbolt.reading.table_shape import Row, Table
from lastbolt.reading.table_words import Heading, table_words
from lastbolt.reading.torque_context import torque_language
from lastbolt.reading.units import UNIT

_CLASS = r"(?:3\.6|[4-6]\.[68]|8\.8|9\.8|10\.9|12\.9|14\.9|A[1-5]L?[-–\s]?(?:50|70|80|100))"
"""Property classes of ISO 898-1 and ISO 3506-1 (from memory)."""
_STRENGTH = re.compile(rf"(?<![\w.,]){_CLASS}(?![\w,]|\.\d)")
_BARE = re.compile(r"[\s()\[\],;:/|]+")
_LONGEST_NOTE = 90


class _Patterns(NamedTuple):
    condition: re.Pattern[str]
    head: re.Pattern[str]
    other: re.Pattern[str]
    angle: re.Pattern[str]
    torque: re.Pattern[str]
    beside: re.Pattern[str]
    unit: re.Pattern[str]


@lru_cache(maxsize=1)
def _patterns() -> _Patterns:
    """The patterns with the words of the language file."""
    words = torque_language()["conditions"]

    def whole(key: str) -> re.Pattern[str]:
        return re.compile(rf"(?:the\s)?(?:{any_of(words[key])})\.?", re.IGNORECASE)

    classes = any_of(words["classes"])
    return _Patterns(
        re.compile(
            rf"(?<![\w.,])(?:{_CLASS}|(?:{classes})\s?[A-Z]?\d{{1,2}}(?:\.\d)?|(?:{any_of(words['words'])}))"
            r"(?![\w,]|\.\d)",
            re.IGNORECASE,
        ),
        whole("heads"),
        whole("others"),
        whole("angle"),
        re.compile(rf"(?<!\w)(?:{any_of(words['torque'])}|{UNIT})(?!\w)", re.IGNORECASE),
        re.compile(
            rf"(?<![\w.,])(?:{_CLASS}|(?:{classes})\s?\d{{1,2}}(?:\.\d)?|(?:{any_of(words['beside'])}))(?![\w,]|\.\d)",
            re.IGNORECASE,
        ),
        re.compile(rf"(?<!\w)(?:{UNIT})(?!\w)", re.IGNORECASE),
    )


def is_condition(text: str) -> bool:
    """Whether words say when a torque holds: "8.8", "class 10", "oiled", "first stage"."""
    return _patterns().condition.search(text) is not None


def heads_conditions(title: str) -> bool:
    """Whether a column under such a heading holds conditions: "Strength class"."""
    return _patterns().head.fullmatch(_plain(title)) is not None


def heads_no_torques(title: str) -> bool:
    """Whether numbers under such a heading are no torques: "Pitch", "Spanner size"."""
    plain = _plain(title)
    return any(p.fullmatch(plain) is not None for p in (_patterns().other, _patterns().angle))


def heads_turns(title: str) -> bool:
    """Whether a column under such a heading holds the turn behind the torque: "Angle"."""
    plain = _plain(title.replace("°", " "))
    return _patterns().angle.fullmatch(plain) is not None


def condition_of(label: str) -> str:
    """A heading as a condition: without the words for a torque and its unit."""
    return " ".join(_BARE.sub(" ", _patterns().torque.sub(" ", label)).split()).strip(" .-–")


def _plain(title: str) -> str:
    return " ".join(_BARE.sub(" ", title.strip()).split()).strip(" .").replace("a f", "a/f")


def below_one_heading(table: Table) -> Table:
    """The table with a second row of headings, "dry | oiled" under "Torque, N·m", taken into its titles."""
    if len(table.rows) < 2:
        return table
    below = [cell.text.strip() for cell in table.rows[0].cells]
    if len(below) > 2 and below[0] and not below[-1] and all(is_condition(text) for text in below[:-1]):
        below = ["", *below[:-1]]  # the first heading reaches over both rows, and the second begins behind it
    over = list(table.titles)
    headings: list[Heading | None] = list(table.headings)
    for at in range(1, len(over)):
        if not over[at] and below[at]:
            over[at], headings[at] = over[at - 1], headings[at - 1]
    filled = [at for at, text in enumerate(below) if text]
    if below[0] or len(filled) < 2 or not all(is_condition(below[at]) for at in filled):
        return table
    titles = [
        f"{text}, {title}" if text and title else text or title
        for text, title in zip(below, over, strict=True)
    ]
    made = [
        Heading("torque", "")
        if heading is not None and heading.role == "torque"
        else heading or table_words().heading(title)
        for title, heading in zip(titles, headings, strict=True)
    ]
    return table._replace(titles=tuple(titles), headings=tuple(made), rows=table.rows[1:])


def under_conditions(rows: Sequence[Row]) -> Iterator[tuple[str, list[Row]]]:
    """The rows by the condition that a row of its own says above them: "Strength class 10.9"."""
    said, some = "", list[Row]()
    for row in rows:
        cells = [cell.text.strip() for cell in row.cells if cell.text.strip()]
        if len(cells) == 1 and is_condition(cells[0]) and not cells[0][:1].islower():
            if some:
                yield said, some
            said, some = cells[0].strip(" :"), []
        else:
            some.append(row)
    if some:
        yield said, some


def in_row(titles: Sequence[str], cells: Sequence[str], but: Sequence[int]) -> list[str]:
    """The conditions that cells of a row say: under a heading of conditions, or by their own words."""
    return [
        cell.strip()
        for at, cell in enumerate(cells)
        if at not in but and cell.strip() and (heads_conditions(titles[at]) or _alone(cell))
    ]


def _alone(cell: str) -> bool:
    """Whether a cell holds nothing but a condition."""
    found = _patterns().condition.match(cell.strip())
    return found is not None and found.end() >= len(cell.strip())


def beside_all(beside: str) -> str:
    """The sentences beside a table of bare threads that say when all its torques hold."""
    parts = [part.strip(" .") for part in re.split(r"(?<=[.;])\s|\s\|\s", beside)]
    told = [part for part in parts if part and _patterns().beside.search(part) is not None]
    return "; ".join(told)[:_LONGEST_NOTE]


def known_apart(title: str) -> bool:
    """Whether a heading says a condition that is known, or a unit, so that its column is no other's."""
    return is_condition(title) or _patterns().unit.search(title) is not None


def thread_alone(named: str) -> bool:
    """Whether a row is named by a thread and nothing else."""
    return any(c.isdigit() for c in named) and not re.search(r"[^\W\d_]{3,}", named)


def with_turns(said: str, titles: Sequence[str], cells: Sequence[str], columns: Sequence[int]) -> str:
    """A torque with the turn that a column of its own puts behind it: "40 N·m + 60°"."""
    for at, title in enumerate(titles):
        cell = cells[at].strip()
        if at in columns or not any(c.isdigit() for c in cell) or not heads_turns(title):
            continue
        said = f"{said} + {cell}" if not cell.isdigit() else f"{said} + {cell}°"
    return said


def strength_in(condition: str) -> str:
    """The strength class that a condition names, as sizes print it: "8.8", "A2-70"; or ""."""
    found = _STRENGTH.search(condition)
    return re.sub(r"[\s–]", "-", found[0]) if found is not None else ""


def is_ditto(cells: Sequence[str]) -> bool:
    """Whether cells say nothing but "the same as above"."""
    said = [cell.strip().lower() for cell in cells if cell.strip()]
    return bool(said) and all(one in torque_language()["conditions"]["ditto"] for one in said)


def tells_a_value(said: str) -> bool:
    """Whether a cell for a torque says something that should have been read: no dash, no "hand tight"."""
    words = said.strip().lower()
    return any(c.isalnum() for c in words) and words not in torque_language()["conditions"]["none"]
