"""The joint as the sheet draws it: each place's mark, who has looked, where to look next, and the legend."""

import re
from collections.abc import Iterable, Sequence

from lastbolt.words.answer import Answer, NextStep, PlaceState
from lastbolt.words.joint import JointPlace, Walk
from lastbolt.words.picture import MARK_WORDS, SEEN_WORDS, JointPicture, Mark, Seen, Spot

FOR_YEARS = "empty for years (engine file)"
NAMED_AT = re.compile(r"\b(?:places?|at) (.+)", re.IGNORECASE)
IN_LIST = re.compile(r", | and ")
STILL_IN: tuple[Mark, ...] = ("in", "broken", "hollow dowel, bolt in")


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
    """The places that a next step names, by its checks or in its words; `labels`: place -> label."""
    ids = {label: place for place, label in labels.items()}
    found: set[str] = set()
    for step in steps:
        checked = (check.partition(" ")[2] for check in (step.check, *step.also))
        found.update(place for place in checked if place in labels)
        for match in NAMED_AT.finditer(step.words):
            for word in IN_LIST.split(match[1]):
                label = re.split(r"[:;,.]?(?:\s|$)", word, maxsplit=1)[0]
                if label not in ids:
                    break
                found.add(ids[label])
    return frozenset(found)


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
    """Only the marks met: first what is there, then who has looked."""
    plain = {spot.mark for spot in spots if not _drawn_for_years(spot)}
    shapes = [(Spot("", 0, 0, mark), words) for mark, words in MARK_WORDS.items() if mark in plain]
    shapes = [(spot, words) for spot, words in shapes if spot.mark != "not seen"]
    if any(_drawn_for_years(spot) for spot in spots):
        shapes.append((Spot("", 0, 0, "out", for_years=True), FOR_YEARS))
    met = {spot.seen for spot in spots}
    looked = [
        (Spot("", 0, 0, "not seen" if seen == "nobody" else "out", seen=seen), words)
        for seen, words in SEEN_WORDS.items()
        if seen in met
    ]
    return (*shapes, *looked)


def _drawn_for_years(spot: Spot) -> bool:
    return spot.for_years and spot.mark in ("out", "not seen")


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
