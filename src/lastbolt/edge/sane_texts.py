"""Texts of a document that nobody wrote: a whole file that slipped into a name takes hours to compare."""

from typing import Any

from lastbolt.edge.strange_fields import name_of

MOST_LETTERS = (100_000, 1_000_000)
"""Of one text in a document, and in a model, whose texts come from books: a page has a few thousand."""
SHOWN = 40


def too_long(raw: bytes, value: Any, most: int) -> str:
    """The first text or field name of more than `most` letters, as the things around it; or empty.

    Only a document with so long a stretch between two quotation marks is searched.
    """
    stretches = raw.replace(b"\\\\", b"..").replace(b'\\"', b"..").split(b'"')
    if not any(len(stretch) > most for stretch in stretches):
        return ""
    left: list[tuple[Any, tuple[str, ...]]] = [(value, ())]
    while left:
        held, around = left.pop()
        if isinstance(held, str) and len(held) > most:
            return " / ".join(around) or "the document itself"
        if isinstance(held, dict):
            long = next((name for name in held if len(name) > most), None)
            if long is not None:
                return " / ".join((*around, f"{long[:SHOWN]} ..."))
            left.extend((inner, (*around, name)) for name, inner in reversed(held.items()))
        elif isinstance(held, list):
            left.extend((inner, _item(around, inner, number)) for number, inner in _backwards(held))
    return ""


def _backwards(items: list[Any]) -> list[tuple[int, Any]]:
    return list(enumerate(items))[::-1]


def _item(around: tuple[str, ...], held: Any, number: int) -> tuple[str, ...]:
    name = name_of(held, number)
    short = name if len(name) <= SHOWN else f"{name[:SHOWN]} ..."
    return (*around[:-1], f"{around[-1] if around else 'item'} {short}")
