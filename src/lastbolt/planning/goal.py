"""A goal in plain words -> the procedure it means, or those it may mean. Never a silent guess."""

import difflib
import re
from collections.abc import Iterable
from functools import lru_cache
from itertools import pairwise

from lastbolt.planning.names import stems, words
from lastbolt.words.machine import Machine, Procedure
from lastbolt.words.plan import Candidate

SURE, AHEAD, WORTH_NAMING, MOST_NAMED = 0.62, 0.12, 0.25, 5
DEED_SHARE, PART_OF_IT, COMPOUND, SHORTEST_HEAD = 0.35, 0.8, 0.95, 4
APART, MOST_OF_FAMILY = "apart", 3
UNSURE, SLIP, NEAR_ENOUGH = 0.6, 0.6, 0.75
_NUMBER = re.compile(
    r"^\s*(?:section|sect?\.|chapter|para(?:graph|\.)?|§)?\s*([0-9A-Z]+(?:[.\-][0-9A-Z]+)*)[.\s]*$", re.I
)

Scored = tuple[float, Procedure]


def find_goal(
    machine: Machine, goal: str, others: frozenset[str] = frozenset()
) -> tuple[tuple[str, ...], tuple[Candidate, ...]]:
    """The ids of the procedures meant (none when it is not clear), and the nearest candidates, best first.

    `others`: procedures that are not for this engine; they are named as candidates and never chosen.
    """
    named = _by_number(machine.procedures, goal)
    if named:
        fits = [p for p in named if p.id not in others]
        return (fits[0].id,) if len(fits) == 1 else (), tuple(_candidate(1.0, p) for p in named)
    corrected = _corrected(machine.procedures, goal)
    if corrected:
        scored = [(SLIP * points, p) for points, p in _scored(machine.procedures, corrected)]
    else:
        scored = _scored(machine.procedures, goal)
    near = [item for item in scored if item[0] >= WORTH_NAMING]
    fit = [item for item in near if item[1].id not in others]
    clear = bool(fit) and fit[0][0] >= SURE and (len(fit) < 2 or fit[0][0] - fit[1][0] >= AHEAD)
    if not clear:
        near = _family_first(machine.procedures, corrected or goal, near)
    return ((fit[0][1].id,) if clear else ()), tuple(_candidate(*item) for item in near[:MOST_NAMED])


def _family_first(procedures: Iterable[Procedure], goal: str, near: list[Scored]) -> list[Scored]:
    """Where something is to be parted, first the work that parts something, whatever the goal calls it."""
    if APART not in _deeds(stems(goal)):
        return near
    same = [item for item in near if _parts_something(item[1])]
    known = {procedure.id for _, procedure in near}
    others = [(DEED_SHARE, p) for p in procedures if p.id not in known and _parts_something(p)]
    rest = [item for item in near if not _parts_something(item[1])]
    return [*same, *others[: MOST_OF_FAMILY - len(same[:MOST_OF_FAMILY])], *rest]


def _parts_something(procedure: Procedure) -> bool:
    return procedure.deed == "separate" or (
        procedure.deed == "other" and APART in _deeds(stems(procedure.title))
    )


def _by_number(procedures: Iterable[Procedure], goal: str) -> list[Procedure]:
    """Those with this id, or this section number as printed."""
    exact = [p for p in procedures if p.id == goal]
    number = section_number(goal)
    if exact or not number:
        return exact
    return [p for p in procedures if p.number.casefold() == number.casefold()]


def section_number(goal: str) -> str:
    """The section number that a goal is, if it is one.

    >>> section_number("section 4.2"), section_number("split the case")
    ('4.2', '')
    """
    number = _NUMBER.match(goal)
    return number.group(1) if number and any(sign.isdigit() for sign in goal) else ""


def _scored(procedures: Iterable[Procedure], goal: str) -> list[Scored]:
    """Best first; equals in the order of the document."""
    found = [(score(goal, procedure), procedure) for procedure in procedures]
    return sorted((item for item in found if item[0] > 0), key=lambda item: -item[0])


def _corrected(procedures: Iterable[Procedure], goal: str) -> str:
    """The goal with each word that no title has put as the nearest known word; nothing when none was near."""
    titled = {word for procedure in procedures for word in stems(procedure.title)}
    known = sorted(titled | _deed_words().keys() | words()["same_part"].keys() | _says_little())
    said, slips = [], 0
    for word in stems(goal):
        fits = word in known or len(word) < SHORTEST_HEAD or any(one.endswith(word) for one in titled)
        near = [] if fits else difflib.get_close_matches(word, known, 1, NEAR_ENOUGH)
        slips += len(near)
        said.append(near[0] if near else word)
    return " ".join(said) if slips else ""


def _candidate(points: float, procedure: Procedure) -> Candidate:
    return Candidate(
        procedure.id, procedure.number, procedure.title, round(points, 3), procedure.citations[:1]
    )


def score(goal: str, procedure: Procedure) -> float:
    """From 0 to 1: how well the goal's words fit the procedure's title; deeds compare by meaning.

    A word of the goal that the title does not account for keeps the score below what is taken as sure.
    """
    asked, has = stems(goal), stems(procedure.title)
    titled = _parts(has)
    parts = _joined(_parts(asked), titled)
    weights = {word: weight for word in parts if (weight := _weight(word, titled))}
    if not weights:
        return 0.0
    missing = set(parts) - set(weights) - _says_little()
    extra = set(titled) - set(parts) - _says_little()
    overlap = 2 * sum(weights.values()) / (2 * len(weights) + len(missing) + len(extra))
    if not missing:
        overlap = max(overlap, PART_OF_IT * min(weights.values()))
    meant = _MEANING.get(procedure.deed, procedure.deed)
    asked_deeds, has_deeds = _deeds(asked), _deeds(has) if meant == "other" else {meant}
    deed = 1.0 if not asked_deeds or asked_deeds & has_deeds else 0.0
    points = overlap * (1 - DEED_SHARE) + deed * DEED_SHARE
    return min(points, UNSURE) if missing else points


def _weight(word: str, titled: tuple[str, ...]) -> float:
    """1 for the very word, a little less for a compound of it: a gearcase is a case."""
    if word in titled:
        return 1.0
    compound = len(word) >= SHORTEST_HEAD and any(other.endswith(word) for other in titled)
    return COMPOUND if compound else 0.0


def _joined(parts: tuple[str, ...], titled: tuple[str, ...]) -> tuple[str, ...]:
    """With "gear case" as one word where the title writes it so."""
    for first, second in pairwise(parts):
        if first + second in titled:
            return tuple(dict.fromkeys((first + second, *(w for w in parts if w not in (first, second)))))
    return parts


_MEANING: dict[str, str] = {"remove": "off", "separate": "apart", "install": "on", "join": "together"}


@lru_cache(maxsize=1)
def _deed_words() -> dict[str, str]:
    return {form: meaning for meaning, forms in words()["deeds"].items() for form in forms}


def _is_deed(word: str, place: int) -> bool:
    return word in _deed_words() and (not place or word not in words()["thing_unless_first"]["words"])


def _deeds(name: tuple[str, ...]) -> set[str]:
    return {_deed_words()[word] for place, word in enumerate(name) if _is_deed(word, place)}


@lru_cache(maxsize=1)
def _says_little() -> frozenset[str]:
    return frozenset(words()["says_little"]["words"])


@lru_cache(maxsize=20_000)
def _parts(name: tuple[str, ...]) -> tuple[str, ...]:
    synonyms = words()["same_part"]
    parts = (synonyms.get(word, word) for place, word in enumerate(name) if not _is_deed(word, place))
    return tuple(dict.fromkeys(parts))
