"""Next steps with the lines to type when they are done, so that what is typed is what was asked for.

What a check promises it promises for the answer "open hole"; so that is what stands there to be typed, and
somebody who finds something in types that instead.
"""

import re

from msgspec.structs import replace

from lastbolt.app.typed_dowels import SEEN_AS_DOWEL
from lastbolt.tally.wording_steps import ROUND_WITH_RODS
from lastbolt.words.answer import NextStep
from lastbolt.words.evidence import Evidence
from lastbolt.words.place_runs import to_type
from lastbolt.words.quantity import Kind

NAME = "by NAME"
COUNT = re.compile(r"^\d+\s*(?:x|×|pcs|pieces)?\s+", re.I)
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
"""What to type of a dowel that was seen so, when nothing is amiss there."""


def with_lines_to_type(steps: tuple[NextStep, ...], evidence: Evidence) -> tuple[NextStep, ...]:
    """The steps, each with what to type; a step that brings its own lines keeps them."""
    labels = {place.id: place.label for place in evidence.places}
    return tuple(
        step if step.to_type else replace(step, to_type=_lines(step, evidence, labels)) for step in steps
    )


def _lines(step: NextStep, evidence: Evidence, labels: dict[str, str]) -> tuple[str, ...]:
    sort, _, about = step.check.partition(" ")
    if step.check == ROUND_WITH_RODS:
        return (NAME, *_said_of([step.check, *step.also][1:], labels), "went round")
    if sort in SAID_OF_PLACES:
        return (NAME, *_said_of([step.check, *step.also], labels))
    if sort == "round" and labels:
        return (NAME, *_round_lines(evidence), "went round")
    if sort == "count" and about:
        return (NAME, f"tray N x {size_to_type(evidence, about)}")
    if sort == "step":
        said = next((one for one in evidence.steps if one.id == about), None)
        if said is not None and said.places:
            told = to_type([labels.get(place, place) for place in said.places])
            return (NAME, f"{told} open hole both sides")
    return ()


def _round_lines(evidence: Evidence) -> list[str]:
    """What a round says that finds nothing amiss; of a dowel that somebody has seen, that it is one."""
    dowels = {look.place: look.saw for look in evidence.looks if look.saw in SEEN_AS_DOWEL}
    holes = [place.label for place in evidence.places if place.id not in dowels]
    said = [f"{to_type(holes)} open hole"] if holes else []
    for saw, words in DOWEL_WORDS.items():
        labels = [place.label for place in evidence.places if dowels.get(place.id) == saw]
        said += [f"{to_type(labels)} {words}"] if labels else []
    return said


def _said_of(checks: list[str], labels: dict[str, str]) -> list[str]:
    """One line for each sort of check: "1-7 light through"."""
    by_sort: dict[str, list[str]] = {}
    for check in checks:
        sort, _, place = check.partition(" ")
        by_sort.setdefault(sort, []).append(labels.get(place, place))
    return [f"{to_type(places)} {SAID_OF_PLACES[sort]}" for sort, places in by_sort.items()]


def size_to_type(evidence: Evidence, words: str) -> str:
    """The size as the typed list has it, else in the tally's own words."""
    for line in evidence.lines:
        if line.words.startswith('"') and _called(line.kind) == words:
            return COUNT.sub("", line.words.strip('"')).removesuffix(" far side")
    return words.removeprefix("screw ")


def _called(kind: Kind) -> str:
    return replace(kind, what="screw" if kind.what == "bolt" else kind.what, head=None, strength=None).words()
