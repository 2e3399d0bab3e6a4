"""Limits that the readings of other sizes decide: taper, ovality, the clearance of what runs in a bore."""

import math
from collections.abc import Iterator, Sequence

from lastbolt.measuring.differences import inside_out
from lastbolt.measuring.dimensions import dimension_of, size_words, which_key, words_of
from lastbolt.measuring.shape_words import bore_of
from lastbolt.words.readings import Decided, Size

SHAPES = ("taper", "ovality")


def shapes_measured(made: Sequence[Decided], sizes: Sequence[Size]) -> Iterator[tuple[Size, Decided]]:
    """Each limit of a shape that nobody measured by itself, with what the readings of its bore make of it.

    A shape is the difference of two readings of one tool: uncertain by both.
    """
    known = {(one.limit, one.of) for one in made}
    for size in sizes:
        if size.dimension not in SHAPES:
            continue
        for one in made:
            bore = bore_of(one.spots) if one.limit and not one.questions else None
            if bore is None or (size.limit, one.of) in known or not _is_of(size, one):
                continue
            value = bore.taper if size.dimension == "taper" else bore.ovality
            spread = None if one.uncertainty is None else one.uncertainty * math.sqrt(2)
            told = (f"From the readings of {one.what}{f', {one.of}' if one.of else ''}.", *one.told)
            yield size, Decided(
                size.what, value, one.unit, of=one.of, uncertainty=spread, k=one.k, freedom=one.freedom,
                parts=one.parts, told=told, readers=one.readers, tool=one.tool, events=one.events,
            )  # fmt: skip


def clearances_measured(made: Sequence[Decided], sizes: Sequence[Size]) -> Iterator[tuple[Size, Decided]]:
    """Each clearance that nobody measured by itself, where its bore and what runs in it both were.

    "Piston to cylinder clearance" is of the cylinder's bore and the piston's diameter: each has a word of the
    name that the other has not, together they have all. Where more than one pair fits, none is taken.
    """
    known = {(one.limit, which_key(one.of)) for one in made}
    bores = [one for one in made if one.limit and dimension_of(one.what).name == "bore"]
    shafts = [one for one in made if one.limit and dimension_of(one.what).name == "journal"]
    for size in sizes:
        if not dimension_of(size.what).both or size.beyond != "part":
            continue
        pairs = [(bore, shaft) for bore in bores for shaft in shafts if _go_together(size, bore, shaft)]
        for bore, shaft in pairs:
            alike = [one for one in pairs if which_key(one[0].of) == which_key(bore.of)]
            if len(alike) == 1 and (size.limit, which_key(bore.of)) not in known:
                yield size, _clearance(size, bore, shaft)


def _go_together(size: Size, bore: Decided, shaft: Decided) -> bool:
    if bore.questions or shaft.questions or not bore.unit == shaft.unit == size.unit:
        return False
    if which_key(bore.of) != which_key(shaft.of):
        return False
    names = set(words_of(size.what)) - {word for name in size_words() for word in words_of(name)}
    has, other = names & set(words_of(bore.what)), names & set(words_of(shaft.what))
    return has | other == names and bool(has - other) and bool(other - has)


def _clearance(size: Size, bore: Decided, shaft: Decided) -> Decided:
    spreads = (bore.uncertainty, shaft.uncertainty)
    spread = None if None in spreads else math.hypot(*(one or 0.0 for one in spreads))
    said = " less ".join(
        f"{one.what}{f', {one.of}' if one.of else ''} {one.value:.4f} {one.unit}" for one in (bore, shaft)
    )
    told = (f"Worked out: {said}.", *dict.fromkeys((*bore.told, *shaft.told)))
    return Decided(
        size.what, bore.value - shaft.value, size.unit, of=bore.of, uncertainty=spread,
        k=max(bore.k, shaft.k), told=told, questions=inside_out(bore, shaft),
        asked=tuple(dict.fromkeys((*bore.asked, *shaft.asked))), tool="",
        readers=tuple(dict.fromkeys((*bore.readers, *shaft.readers))), events=(*bore.events, *shaft.events),
    )  # fmt: skip


def _is_of(size: Size, one: Decided) -> bool:
    """Whether a shape is that of a size: the same words but those of the kind, in the same unit."""
    kinds = {word for name in dimension_of(size.what).names for word in words_of(name)}
    part = set(words_of(size.what)) - kinds
    other = set(words_of(one.what))
    return bool(part) and size.unit == one.unit and (part <= other) and dimension_of(one.what).warm
