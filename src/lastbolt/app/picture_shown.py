"""The joint as the sheet draws it: each place's mark, who has looked, where to look next, and the legend."""

from collections.abc import Iterable, Sequence

from lastbolt.drawing.marks import STILL_IN, seen_there
from lastbolt.words.answer import Answer, NextStep, PlaceState
from lastbolt.words.joint import JointPlace, Walk
from lastbolt.words.picture import MARK_WORDS, SEEN_WORDS, JointPicture, Mark, Seen, Spot

FOR_YEARS = "empty for years"
UNKNOWN: Mark = "not seen"
STILL_IN_WORDS: dict[Mark, str] = {
    "in": "a fastener is in",
    "broken": "broken off, the shank is in",
    "hollow dowel, bolt in": "a bolt is in the hollow dowel",
}
SHAPE_WORDS: dict[str, str] = {
    "nothing": "a boss without a hole",
    FOR_YEARS: "no fastener for years, says the engine file",
    "solid dowel": "a solid dowel",
    "hollow dowel": "a hollow dowel",
}


def picture_of(walk: Walk | None, answer: Answer | None) -> JointPicture:
    """The walked joint with what the answer says of each place."""
    if walk is None:
        return JointPicture()
    states = {state.place: state for state in answer.places} if answer else {}
    labels = {place.id: place.label for place in walk.places}
    named = named_next(answer.next_steps, labels) if answer else frozenset()
    spots = [
        _spot(place, states.get(place.id), look=place.id in named) for place in walk.places if place.ends
    ]
    return JointPicture(walk.outline_mm, tuple(spots), walk.faces)


def named_next(steps: Iterable[NextStep], labels: dict[str, str]) -> frozenset[str]:
    """The places that a next step names; `labels`: place -> label."""
    named = {label for step in steps for label in step.places}
    return frozenset(place for place, label in labels.items() if label in named)


def seen_of(state: PlaceState | None) -> Seen:
    """How far people have looked at a place; empty where a fastener is known to be in."""
    if state is None:
        return "nobody"
    if state.mark in STILL_IN:
        return ""
    if state.seen_by:
        return "two" if len(state.seen_by) > 1 else "one"
    return "glance" if state.glanced else "nobody"


def legend_of(spots: Sequence[Spot]) -> tuple[tuple[Spot, str], ...]:
    """Only the marks met, each in words: what is not safe first, then who looked, then other shapes."""
    met = {(_shape(spot), seen_there(spot)) for spot in spots}
    shapes = {shape for shape, _ in met}
    legend = [(Spot("", 0, 0, mark), STILL_IN_WORDS[mark]) for mark in STILL_IN if mark in shapes]
    if (UNKNOWN, "nobody") in met:
        legend.append((Spot("", 0, 0, UNKNOWN, seen="nobody"), SEEN_WORDS["nobody"]))
    for seen in ("glance", "one", "two"):
        like = [shape for shape, who in met if who == seen]
        if like:
            legend.append((_example("out" if "out" in like else min(like), seen), SEEN_WORDS[seen]))
    legend += [(_example(shape), words) for shape, words in SHAPE_WORDS.items() if shape in shapes]
    return tuple(legend)


def key_of(spots: Sequence[Spot]) -> str:
    """How to read what is met on the picture, in words."""
    told = (
        ("Black or half black: not safe.", any(_dark(spot) for spot in spots)),
        ("White with a line below: somebody looked, and nothing is in.", any(not _dark(s) for s in spots)),
        ("Large ring: look there next.", any(spot.look for spot in spots)),
        ("Number in a box: not accounted for.", any(spot.open for spot in spots)),
        ("Dashed: it lies behind.", any(spot.behind for spot in spots)),
        ("Seen from the near side.", bool(spots)),
    )
    return " ".join(words for words, met in told if met)


def _dark(spot: Spot) -> bool:
    return spot.mark in STILL_IN or seen_there(spot) in ("nobody", "glance")


def _shape(spot: Spot) -> str:
    if spot.mark in STILL_IN:
        return spot.mark
    if seen_there(spot) == "nobody":
        return UNKNOWN
    return FOR_YEARS if spot.for_years and spot.mark in ("out", "not seen") else spot.mark


def _example(shape: str, seen: Seen = "") -> Spot:
    years = shape == FOR_YEARS
    mark: Mark = next((mark for mark in MARK_WORDS if mark == shape and not years), "out")
    return Spot("", 0, 0, mark, seen=seen, for_years=years)


def _spot(place: JointPlace, state: PlaceState | None, *, look: bool) -> Spot:
    end = next((end for end in place.ends if end.side == "near"), place.ends[0])
    return Spot(
        place.label,
        end.x_mm,
        end.y_mm,
        state.mark if state else "not seen",
        behind=_behind(place),
        look=look or state is None or not state.accounted,
        seen=seen_of(state),
        for_years=bool(state and state.never_there),
        open=state is None or not state.accounted,
    )


def _behind(place: JointPlace) -> bool:
    """Behind: it is reached from the far side, or a part covers it."""
    near = [end for end in place.ends if end.side == "near" and not end.form.startswith("blind")]
    return bool(place.under) or (bool(place.ends) and not near)
