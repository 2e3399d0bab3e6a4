"""Which places a size belongs to, as walks and the engine's own file say it, and how each of them stands."""

from collections.abc import Iterable, Mapping

from lastbolt.tally.layout import whole_kind
from lastbolt.words.answer import Answer, PlaceState
from lastbolt.words.engine import Engine
from lastbolt.words.joint import Walk
from lastbolt.words.picture import Mark
from lastbolt.words.place_runs import listed

EMPTY: tuple[Mark, ...] = ("out", "nothing", "hollow dowel")
PlacesBySize = Mapping[str, tuple[PlaceState, ...]]


def places_by_size(walks: Iterable[Walk], engine: Engine | None, answer: Answer) -> PlacesBySize:
    """Size in words -> its places, in the answer's order."""
    odd = {
        fact.place: fact.kind
        for fact in (engine.as_found if engine else ())
        if fact.what == "odd length" and fact.place and fact.kind
    }
    sizes: dict[str, str] = {}
    for walk in walks:
        for place in walk.places:
            kind = odd.get(place.id) or place.kind
            if kind is not None and kind.what != "dowel":
                sizes.setdefault(place.id, whole_kind(kind).words())
    found: dict[str, list[PlaceState]] = {}
    for state in answer.places:
        if state.place in sizes:
            found.setdefault(sizes[state.place], []).append(state)
    return {size: tuple(states) for size, states in found.items()}


def said_of_places(places: Iterable[PlaceState]) -> str:
    """How many of them stand empty, how many of those for years, and of which that is not shown.

    >>> said_of_places([PlaceState("p1", "1", "out", "", True), PlaceState("p2", "2", "not seen", "", False)])
    'empty: 1 of 2 places; not shown: 2'
    """
    places = tuple(places)
    empty = [state for state in places if state.accounted and state.mark in EMPTY]
    years = [state.label for state in empty if state.never_there]
    rest = [state.label for state in places if state not in empty]
    said = f"empty: {len(empty)} of {len(places)} place{'' if len(places) == 1 else 's'}"
    if years:
        said += f", {len(years)} of them for years ({listed(years)})"
    return f"{said}; not shown: {listed(rest)}" if rest else said
