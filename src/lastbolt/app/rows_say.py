"""What the rows of the lists say of a joint beside its counted fasteners.

Asked for: remarks beside its own rows; fasteners of its own figure, or of a further sheet of it, that nobody
places; parts of its figure that come with fasteners of their own, and packs of which no list says what is in
them; and rows of other figures whose remark names the joint.
"""

import re
from collections.abc import Callable, Iterator

from lastbolt.app.book_says import Passage, Question, asked_of, explained, names_joint
from lastbolt.app.gather_job import Heard
from lastbolt.app.holder_words import listed, says
from lastbolt.app.known_of_joint import Known
from lastbolt.app.other_numbers import number_in
from lastbolt.app.removals import tallied
from lastbolt.planning.names import stems
from lastbolt.words.answer import HolderState
from lastbolt.words.machine import Machine, PartsRow

WHERE = Question("where do they go? out?", "out")
PACKED = Question("are there fasteners of this joint among them? out?", "out")
_WORD = re.compile(r"[^\W_]+(?:'\w+)?")


def rows_say(machine: Machine | None, known: Known, heard: Heard) -> Iterator[HolderState]:
    """One question for each sort of words in the rows that may tell of something that still holds."""
    if machine is None:
        return
    own = [row for row in machine.rows if row.id in known.rows and row.remarks and not row.renew]
    more = [row for row in own if _says_more(row.remarks, known)]
    yield from asked_of(("book#remarks", "remarks of the list"), _passages(more, _remark), heard)
    left = _left(machine, known)
    yield from asked_of(("book#rows", "fasteners of its figure"), _passages(left, _name), heard, WHERE)
    packed = [row for row in machine.rows if row.figure in known.figures and _holds_more(row, known)]
    yield from asked_of(("book#packed", "parts with fasteners"), _passages(packed, _name), heard, PACKED)
    told = {*known.rows, *(row.id for row in left)}
    through = [row for row in machine.rows if row.id not in told and _remark_of_joint(row, known)]
    yield from asked_of(("book#through", "remarks of other rows"), _passages(through, _both), heard)


def _passages(rows: list[PartsRow], words: Callable[[PartsRow], str]) -> list[Passage]:
    return [Passage(f"item {row.item}" if row.item else "", words(row), row.citations) for row in rows]


def _name(row: PartsRow) -> str:
    return row.name


def _remark(row: PartsRow) -> str:
    return row.remarks


def _both(row: PartsRow) -> str:
    return f"{row.name}: {row.remarks}"


def _says_more(remark: str, known: Known) -> bool:
    return says("and_more", remark) or number_in(remark) or not explained(remark, known)


def _left(machine: Machine, known: Known) -> list[PartsRow]:
    """Fasteners of the joint's own figure, and of further sheets of it, that nobody places."""
    told = {row for p in machine.procedures for step in p.steps for one in step.mentions for row in one.rows}
    sheets = _further_sheets(machine, known)
    return [
        row
        for row in machine.rows
        if ((row.figure and row.figure in known.figures and row.id in known.loose) or row.figure in sheets)
        and row.id not in told
        and tallied(row)
        and not says("hold_no_joint", row.name)
        and not _is_asked(row, known)
    ]


def _further_sheets(machine: Machine, known: Known) -> set[str]:
    """Figures that show the same parts again from another side: "Gearbox, rear" beside "Gearbox"."""
    parts = [figure for figure in machine.figures if figure.parts_figure and figure.title]
    own = [figure.title.casefold() for figure in parts if {figure.id, figure.number} & {*known.figures}]
    words = set(listed("further_sheet"))
    found: set[str] = set()
    for figure in parts:
        title = figure.title.casefold()
        for first in own:
            rest = title.removeprefix(first)
            behind = _WORD.findall(rest)
            if rest != title and behind and not rest[:1].isalnum() and set(behind) <= words:
                found |= {figure.id, figure.number}
    return found - {*known.figures}


def _holds_more(row: PartsRow, known: Known) -> bool:
    """Whether a row that is no counted fastener stands for several pieces, fasteners perhaps among them."""
    if tallied(row) or _is_asked(row, known):
        return False
    if says("packs", row.name):
        return not says("packs_without", row.name)
    low = " ".join(row.name.casefold().split())
    first = "|".join(re.escape(word) for word in listed("comes_with"))
    second = "|".join(re.escape(word) for word in listed("own_fasteners"))
    return re.search(rf"(?<!\w)(?:{first})\.?\s(?:[^\W_]+\s){{0,3}}(?:{second})\b", low) is not None


def _remark_of_joint(row: PartsRow, known: Known) -> bool:
    """Whether the remark of a fastener of another figure names the joint or both its parts."""
    return (
        bool(row.remarks) and tallied(row) and names_joint(row.remarks, known) and not _is_asked(row, known)
    )


def _is_asked(row: PartsRow, known: Known) -> bool:
    return any(set(stems(state.name)) <= set(stems(row.name)) for state in known.asked if stems(state.name))
