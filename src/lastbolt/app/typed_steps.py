"""Next steps with the lines to type when they are done, so that what is typed is what was asked for.

What a check promises it promises for the answer "open hole"; so that is what stands there to be typed, and
somebody who finds something in types that instead.
"""

from collections.abc import Sequence

from msgspec.structs import replace

from lastbolt.app.typed_pieces import COUNT, without_side
from lastbolt.tally.wording_steps import ROUND_WITH_RODS
from lastbolt.words.answer import NextStep
from lastbolt.words.evidence import Evidence, EvidencePlace, Look
from lastbolt.words.joint import A_DOWEL, SOLID_DOWEL
from lastbolt.words.place_runs import is_number, to_type
from lastbolt.words.quantity import Kind

NAME = "by NAME"
NOBODY_YET = ""
LOOK_AGAIN = "look again"
SAID_OF_PLACES = {
    "look": "open hole both sides",
    "rod": "light through",
    "depth": "rod to the bottom",
    "dowel": "dowel both ends",
}
"""By the sort of check: what to type of its places."""
DOWEL_WORDS = {
    "solid dowel": "solid dowel",
    "solid dowel, both ends": "dowel both ends",
    "hollow dowel, empty": "hollow dowel empty",
    "hollow dowel, bolt in": "hollow dowel empty",
}
DOWEL_SEEN_AGAIN = {
    "solid dowel": "dowel both ends",
    "solid dowel, both ends": "dowel both ends",
    "hollow dowel, empty": "hollow dowel empty both sides",
    "hollow dowel, bolt in": "hollow dowel empty both sides",
}
"""What to type of a dowel when somebody looks at it on purpose, from both sides."""


def with_lines_to_type(steps: tuple[NextStep, ...], evidence: Evidence) -> tuple[NextStep, ...]:
    """The steps, each with what to type; a step that brings its own lines keeps them."""
    labels = {place.id: place.label for place in evidence.places}
    return tuple(
        step if step.to_type else replace(step, to_type=_lines(step, evidence, labels)) for step in steps
    )


def _lines(step: NextStep, evidence: Evidence, labels: dict[str, str]) -> tuple[str, ...]:
    sort, _, about = step.check.partition(" ")
    if step.check == LOOK_AGAIN:
        return _again(step, evidence)
    if step.check == ROUND_WITH_RODS:
        return (NAME, *_said_of([step.check, *step.also][1:], evidence), "went round")
    if sort in SAID_OF_PLACES:
        return (NAME, *_said_of([step.check, *step.also], evidence))
    if sort == "round" and labels:
        return (NAME, *said_when_nothing_is_amiss(evidence.looks, evidence.places), "went round")
    if sort == "count" and about:
        return (NAME, f"tray N x {size_to_type(evidence, about)}")
    if sort == "step":
        said = next((one for one in evidence.steps if one.id == about), None)
        if said is not None and said.places:
            told = to_type([labels.get(place, place) for place in said.places])
            return (NAME, f"{told} open hole both sides")
    return ()


def said_when_nothing_is_amiss(looks: Sequence[Look], places: Sequence[EvidencePlace]) -> list[str]:
    """What is typed of these places when nothing is amiss; of a dowel that somebody saw, that it is one."""
    dowels = {look.place: look.saw for look in looks if look.saw in A_DOWEL}
    holes = [place.label for place in places if place.id not in dowels]
    said = [f"{to_type(in_walk_order(holes))} open hole"] if holes else []
    for saw, words in DOWEL_WORDS.items():
        labels = [place.label for place in places if dowels.get(place.id) == saw]
        said += [f"{to_type(in_walk_order(labels))} {words}"] if labels else []
    return said


def in_walk_order(labels: Sequence[str]) -> list[str]:
    """Places by their numbers if all have one, else as they come."""
    return sorted(labels, key=int) if all(map(is_number, labels)) else list(labels)


def _again(step: NextStep, evidence: Evidence) -> tuple[str, ...]:
    """Where two looks cannot both be: what those people say if they agree when they look together."""
    said: dict[str, list[str]] = {}
    for place in (place for place in evidence.places if place.label in step.places):
        last = {look.by: look.saw for look in evidence.looks if look.place == place.id}
        closed = any(saw in SOLID_DOWEL for saw in last.values())
        other = [by for by, saw in last.items() if saw != "cannot see" and (saw in SOLID_DOWEL) != closed]
        for by in other if closed and other else [NOBODY_YET]:
            words = "dowel both ends" if closed else "open hole both sides"
            said.setdefault(by, []).append(f"{place.label} {words}")
    names = dict(evidence.people)
    spoken = [
        (NAME if by == NOBODY_YET else f"by {names.get(by) or by}", lines) for by, lines in said.items()
    ]
    return tuple(line for name, lines in spoken for line in (name, *lines))


def _said_of(checks: list[str], evidence: Evidence) -> list[str]:
    """One line for each thing said: "1-7 light through"; of a dowel that somebody saw, that it is one."""
    labels = {place.id: place.label for place in evidence.places}
    dowels = {look.place: look.saw for look in evidence.looks if look.saw in A_DOWEL}
    said: dict[str, list[str]] = {}
    for check in checks:
        sort, _, place = check.partition(" ")
        again = DOWEL_SEEN_AGAIN[dowels[place]] if sort == "look" and place in dowels else ""
        words = again or SAID_OF_PLACES[sort]
        said.setdefault(words, []).append(labels.get(place, place))
    return [f"{to_type(places)} {words}" for words, places in said.items()]


def size_to_type(evidence: Evidence, words: str) -> str:
    """The size as the typed list has it, else in the tally's own words."""
    for line in evidence.lines:
        if line.words.startswith('"') and _called(line.kind) == words:
            return without_side(COUNT.sub("", line.words.strip('"')))
    return words.removeprefix("screw ")


def _called(kind: Kind) -> str:
    return replace(kind, what="screw" if kind.what == "bolt" else kind.what, head=None, strength=None).words()
