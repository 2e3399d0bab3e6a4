"""Numbers of a document that no engine has: a slip of the keyboard, or not from this trade at all."""

import re
from collections.abc import Iterator
from typing import Any

from lastbolt.edge.strange_fields import name_of

MOST = 1_000_000
"""Millimetres, newton metres, pieces, pages and picture points of an engine and its books stay far below."""
UNBOUNDED = frozenset({"serial", "sequence", "from_serial", "to_serial"})
LONG_NUMBER = re.compile(rb"[:\[,]\s*-?(?:\d{7}|[\d.]+[eE])")
"""How a number beyond `MOST` looks in a document's text, and few others: where none is, none is searched."""


def out_of_range(value: Any, known: frozenset[str]) -> str:
    """The first of the known fields whose number is beyond `MOST`, and the things around it; or empty."""
    return next(_beyond(value, known, ()), "")


def _beyond(value: Any, known: frozenset[str], around: tuple[str, ...]) -> Iterator[str]:
    if isinstance(value, dict):
        for name, held in value.items():
            if name in known and name not in UNBOUNDED:
                yield from _beyond(held, known, (*around, name))
    elif isinstance(value, list):
        for number, held in enumerate(value):
            item = f"{around[-1] if around else 'item'} {name_of(held, number)}"
            yield from _beyond(held, known, (*around[:-1], item))
    elif isinstance(value, int | float) and not -MOST <= value <= MOST:
        yield " / ".join(around)
