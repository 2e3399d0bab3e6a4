"""What sits inside, under or behind another part, as steps, tables and parts lists say: "9 and 10, inside the
bearing cap"."""

import re
from collections.abc import Iterator, Sequence
from functools import lru_cache

from lastbolt.planning.names import same_part, stems
from lastbolt.planning.order_words import order_words
from lastbolt.words.back import Removed
from lastbolt.words.machine import Machine
from lastbolt.words.plan import Plan

_WORD = re.compile(r"[a-z][a-z\-]*")
LONGEST = 4
"""So many words of a name are looked at behind the little word."""


def inside_of(things: Sequence[Removed], plan: Plan, machine: Machine) -> Iterator[tuple[int, int]]:
    """Pairs of things, by their numbers: the first sits in or under the second."""
    lines = {line.id: line for line in plan.lines}
    remarks = {row.id: row.remarks for row in machine.rows if row.remarks}
    tables = [(row.table, row.positions) for row in machine.bolt_rows if row.positions]
    outer = [(n, one) for n, one in enumerate(things) if not one.fastener]
    for number, one in enumerate(things):
        line = lines.get(one.off_by)
        said = [remarks[row] for row in one.rows if row in remarks]
        said += [line.words] if line is not None else []
        if one.fastener and len(stems(one.part)) > 1:
            said += [positions for table, positions in tables if set(stems(one.part)) <= set(stems(table))]
        behind = [name for text in said for name in _behind(text)]
        for other, thing in outer:
            if other != number and any(_is(thing.part, name) for name in behind):
                yield number, other


def _behind(text: str) -> Iterator[str]:
    """The words behind each "inside the", "under the"."""
    low = text.casefold()
    for match in _little().finditer(low):
        yield " ".join(_WORD.findall(re.split(r"[,;:.()]", low[match.end() :])[0])[:LONGEST])


def _is(part: str, name: str) -> bool:
    """Whether the words begin with the part's name.

    >>> _is("bearing cap", "bearing cap of the"), _is("bearing cap", "cap"), _is("cap screw", "cap")
    (True, True, False)
    """
    said = name.split()
    return any(same_part(part, " ".join(said[:count])) for count in range(1, len(said) + 1))


@lru_cache(maxsize=1)
def _little() -> re.Pattern[str]:
    known = "|".join(map(re.escape, order_words()["inside"]))
    return re.compile(rf"\b(?:{known})\s+(?:the\s+|a\s+|an\s+)?")
