"""Places on pages that were read turned, put back to the pages as displayed."""

from collections.abc import Mapping
from typing import Any

import msgspec
from msgspec import Struct

from lastbolt.reading.sideways import turned_box
from lastbolt.words.citation import Citation, PdfPlace, rounded
from lastbolt.words.machine import Figure, Machine

Turns = Mapping[tuple[str, int], int]
"""Source and PDF page -> by how many degrees the page was turned to be read."""


def with_pages_turned_back(machine: Machine, turns: Turns) -> Machine:
    """The model with every box on those pages as it stands on the displayed page."""
    return _back(machine, turns) if turns else machine


def _back(value: Any, turns: Turns) -> Any:
    if isinstance(value, Citation):
        return _citation(value, turns)
    if isinstance(value, Struct):
        new = {name: _back(getattr(value, name), turns) for name in value.__struct_fields__}
        same = all(new[name] is getattr(value, name) for name in new)
        made = value if same else msgspec.structs.replace(value, **new)
        return _figure(made, turns) if isinstance(made, Figure) else made
    if isinstance(value, tuple):
        items = tuple(_back(item, turns) for item in value)
        return value if all(a is b for a, b in zip(items, value, strict=True)) else items
    return value


def _citation(citation: Citation, turns: Turns) -> Citation:
    place = citation.place
    if not isinstance(place, PdfPlace) or place.box is None:
        return citation
    turn = turns.get((citation.source, place.pdf_page))
    if turn is None:
        return citation
    return msgspec.structs.replace(citation, place=_place(place, turn))


def _place(place: PdfPlace, turn: int) -> PdfPlace:
    if place.box is None:
        return place
    return msgspec.structs.replace(place, box=rounded(turned_box(place.box, 360 - turn), 4))


def _figure(figure: Figure, turns: Turns) -> Figure:
    """Its own box and those of its callouts, which no citation bears."""
    turn = turns.get((figure.source, figure.place.pdf_page)) if figure.place is not None else None
    if turn is None or figure.place is None:
        return figure
    callouts = tuple(
        msgspec.structs.replace(callout, box=rounded(turned_box(callout.box, 360 - turn), 4))
        for callout in figure.callouts
    )
    return msgspec.structs.replace(figure, place=_place(figure.place, turn), callouts=callouts)
