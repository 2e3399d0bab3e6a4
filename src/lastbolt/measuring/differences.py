"""One measured size less another: a clearance by difference, what is free without shims."""

from collections.abc import Sequence

from msgspec import Struct

from lastbolt.measuring.dimensions import words_of
from lastbolt.measuring.matched import meant
from lastbolt.measuring.takes import Take
from lastbolt.measuring.uncertainty import Part, combine
from lastbolt.words.readings import Decided, Size


class Operand(Struct, frozen=True):
    """A size worked out of two others, with what is uncertain, strange or to ask of either."""

    value: float
    unit: str
    standard: float | None
    k: float
    freedom: float | None
    parts: tuple[str, ...]
    questions: tuple[str, ...]
    told: tuple[str, ...]
    asked: tuple[str, ...]


def difference_of(take: Take, known: Sequence[Decided], sizes: Sequence[Size]) -> Operand | str:
    """The first less the second, or why it cannot be worked out yet."""
    if len(take.event.difference) != 2:
        return "a difference is of two sizes"
    found = [named(name, known, sizes) for name in take.event.difference]
    for name, one in zip(take.event.difference, found, strict=True):
        if one is None:
            return f'"{name}" is not measured, or may be more than one size'
    first, second = (one for one in found if one is not None)
    if first.unit != second.unit:
        return f"{first.what} is in {first.unit} and {second.what} in {second.unit}"
    parts = [_part(one) for one in (first, second)]
    both = None if None in parts else combine([part for part in parts if part is not None])
    return Operand(
        first.value - second.value, first.unit, both.standard if both else None, both.k if both else 2.0,
        both.freedom if both else None,
        tuple(f"{part.words}: {part.value:.2g} {first.unit}" for part in parts if part is not None),
        (*inside_out(first, second),
         *(f"{one.what}: {question}" for one in (first, second) for question in one.questions)),
        (f"{_words(first)} less {_words(second)}.", *dict.fromkeys((*first.told, *second.told))),
        tuple(dict.fromkeys((*first.asked, *second.asked))),
    )  # fmt: skip


def inside_out(first: Decided, second: Decided) -> tuple[str, ...]:
    """What goes in must be smaller than what it goes into."""
    if first.value >= second.value:
        return ()
    return (f"{_words(second)} is larger than {_words(first)}: one cannot go into the other.",)


def named(name: str, known: Sequence[Decided], sizes: Sequence[Size]) -> Decided | None:
    """The one measured size of that name: the same words, which one included; else one that the words fit."""
    words = sorted(words_of(name))
    same = [one for one in known if sorted(words_of(f"{one.what} {one.of}")) == words]
    if len(same) == 1:
        return same[0]
    found = meant(name, sizes)
    if found.size is None:
        return None
    fits = [one for one in known if one.limit == found.size.limit]
    exact = [one for one in fits if sorted(words_of(one.of)) == sorted(words_of(found.of))]
    return exact[0] if len(exact) == 1 else fits[0] if len(fits) == 1 and not found.of else None


def _words(one: Decided) -> str:
    return f"{one.what}{f', {one.of}' if one.of else ''} {one.value:.4f} {one.unit}"


def _part(one: Decided) -> Part | None:
    """Its whole uncertainty as one, with the freedom that stands behind it."""
    if one.uncertainty is None:
        return None
    return Part(one.what, one.uncertainty, "A", one.freedom, "JCGM 100:2008 5.1.2")
