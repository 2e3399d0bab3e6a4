"""A goal in plain words -> the procedure it means, or those it may mean. Never a silent guess."""

import re
from functools import lru_cache

from lastbolt.planning.names import stems, words
from lastbolt.words.machine import Machine, Procedure
from lastbolt.words.plan import Candidate

SURE, AHEAD, WORTH_NAMING, MOST_NAMED = 0.62, 0.12, 0.25, 5
DEED_SHARE = 0.35
_NUMBER = re.compile(r"^\s*(?:section|chapter|para(?:graph)?)?\s*([0-9A-Z]+(?:[.\-][0-9A-Z]+)*)\s*$", re.I)


def find_goal(machine: Machine, goal: str) -> tuple[tuple[str, ...], tuple[Candidate, ...]]:
    """The ids of the procedures meant (none when it is not clear), and the nearest candidates, best first."""
    number = _NUMBER.match(goal)
    if number and any(sign.isdigit() for sign in goal):
        exact = [p for p in machine.procedures if p.number.casefold() == number.group(1).casefold()]
        if exact:
            named = tuple(_candidate(p, 1.0) for p in exact)
            return (exact[0].id,) if len(exact) == 1 else (), named
    scored = sorted(
        ((score(goal, procedure), -place, procedure) for place, procedure in enumerate(machine.procedures)),
        key=lambda item: item[:2],
        reverse=True,
    )
    near = tuple(_candidate(p, s) for s, _, p in scored[:MOST_NAMED] if s >= WORTH_NAMING)
    clear = bool(near) and near[0].score >= SURE and (len(near) < 2 or near[0].score - near[1].score >= AHEAD)
    return ((near[0].procedure,) if clear else ()), near


def _candidate(procedure: Procedure, score_: float) -> Candidate:
    return Candidate(
        procedure.id, procedure.number, procedure.title, round(score_, 3), procedure.citations[:1]
    )


def score(goal: str, procedure: Procedure) -> float:
    """From 0 to 1: how well the goal's words fit the procedure's title; deeds compare by meaning."""
    asked, has = stems(goal), stems(procedure.title)
    asked_deeds, has_deeds = _deeds(asked), _deeds(has) | {_MEANING.get(procedure.deed, procedure.deed)}
    parts, titled = _parts(asked), _parts(has)
    if not parts or not titled:
        return 0.0
    common = parts & titled
    overlap = 2 * len(common) / (len(parts) + len(titled))
    if parts <= titled or titled <= parts:
        overlap = max(overlap, 0.85)
    deed = 1.0 if not asked_deeds or asked_deeds & has_deeds else 0.0
    return overlap * (1 - DEED_SHARE) + deed * DEED_SHARE if common else 0.0


_MEANING = {"remove": "off", "separate": "apart", "install": "on", "join": "together"}


@lru_cache(maxsize=1)
def _deed_words() -> dict[str, str]:
    return {form: meaning for meaning, forms in words()["deeds"].items() for form in forms}


def _deeds(name: tuple[str, ...]) -> set[str]:
    return {_deed_words()[word] for word in name if word in _deed_words()}


def _parts(name: tuple[str, ...]) -> set[str]:
    synonyms = words()["same_part"]
    return {synonyms.get(word, word) for word in name if word not in _deed_words()}
