"""What is to be told of limits: one problem each, or one for many rows of a kind."""

from collections.abc import Iterable
from typing import NamedTuple

from lastbolt.reading.limit_facts import DISAGREE, DOUBTFUL, NOT_READ
from lastbolt.words.citation import Citation
from lastbolt.words.problem import Problem
from lastbolt.words.where import where

_MOST_ALONE = 3
"""More complaints of one kind in one source are told together."""
_WORDS = {
    NOT_READ: "is not understood",
    DISAGREE: "is printed in units that do not agree",
    DOUBTFUL: "is read with doubt",
}
_DO = {
    NOT_READ: "Read it from the page yourself; nothing of it is in the model.",
    DISAGREE: "Find out which one is meant before a part is judged by it.",
    DOUBTFUL: "Compare it with the page before a part is judged by it.",
}


class Complaint(NamedTuple):
    """Something wrong with one limit; without `what` with a whole table of them."""

    code: str
    what: str
    why: str
    cite: Citation


def told(complaints: Iterable[Complaint], title: str) -> tuple[Problem, ...]:
    """The problems, those of one kind and reason together where they are many."""
    kinds: dict[tuple[str, str], list[Complaint]] = {}
    for one in complaints:
        kinds.setdefault((one.code, one.why), []).append(one)
    found: list[Problem] = []
    for alike in kinds.values():
        found += [_many(alike, title)] if len(alike) > _MOST_ALONE else [_one(one, title) for one in alike]
    return tuple(found)


def _one(one: Complaint, title: str) -> Problem:
    if one.what:
        said = f'The limit of "{one.what}" {_WORDS[one.code]}: {one.why}; it reads "{one.cite.words}".'
    else:
        said = f"What looks like limits {_WORDS[one.code]}: {one.why}."
    return Problem(one.code, said, where(one.cite, title), _DO[one.code], citations=(one.cite,))


def _many(alike: list[Complaint], title: str) -> Problem:
    first = alike[0]
    names = ", ".join(f'"{one.what}"' for one in alike[:3])
    how = _WORDS[first.code].removeprefix("is ")
    said = f"{len(alike)} limits, each {how}: {first.why}; the first are {names}."
    cites = tuple(one.cite for one in alike)
    return Problem(first.code, said, where(first.cite, title), _DO[first.code], citations=cites)
