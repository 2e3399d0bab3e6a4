"""Checks of several places at once: where many are as doubtful, no single one of them settles anything."""

from collections.abc import Iterable

from msgspec.structs import replace

from lastbolt.tally.build_papers import pieces_of
from lastbolt.tally.build_people import Scene, say_look, say_round
from lastbolt.tally.checks import (
    ASSUMED_EFFORT_MIN,
    HOW,
    SOMEBODY_ELSE,
    Proposal,
    answer_of,
    beyond_a_look,
    fresh_ledger,
    moment_now,
    suspect_places,
)
from lastbolt.tally.layout import NOWHERE_LISTED
from lastbolt.words.claims import Account, Check
from lastbolt.words.evidence import Look, RoundMade
from lastbolt.words.joint import Saw
from lastbolt.words.place_runs import deed_at

MOST_TOGETHER = 60
Looks = tuple[tuple[str, Saw, str], ...]
"""Place, what is seen there if nothing is amiss, and the sort of check that sees it."""


def propose_together(
    scene: Scene, account: Account, open_places: frozenset[str] = frozenset()
) -> tuple[Proposal, ...]:
    """Looks and rods at all places not accounted for, and at all those of least cost; a round with rods."""
    walked = [place.id for place in scene.layout.places]
    sets = {
        tuple(place for place in walked if place in open_places): None,
        tuple(place for place in walked if place in suspect_places(scene, account, cheapest=True)): None,
    }
    made = []
    for places in sets:
        if 2 <= len(places) <= MOST_TOGETHER:
            made.append(_at_all(scene, tuple((place, "open hole", "look") for place in places)))
            made.append(_at_all(scene, _beyond(scene, places)))
    if 0 < len(walked) <= MOST_TOGETHER:
        made.append(_round_with_rods(scene, _beyond(scene, walked)))
    return tuple(made)


def _beyond(scene: Scene, places: Iterable[str]) -> Looks:
    return tuple((place, *beyond_a_look(scene, place)) for place in places)


def _at_all(scene: Scene, looks: Looks) -> Proposal:
    sort = "look" if looks[0][2] == "look" else "rod"
    name = f"{sort} at all of {', '.join(place for place, _, _ in looks)}"
    effort = sum(ASSUMED_EFFORT_MIN[how] for _, _, how in looks)
    made = _proposal(scene, (name, sort, f"{_how(scene, looks)}.", effort), looks)
    same = len({how for _, _, how in looks}) == 1
    return replace(made, deed=HOW[looks[0][2]] if same else "", new_eyes=True)


def _round_with_rods(scene: Scene, looks: Looks) -> Proposal:
    who = "Another person" if scene.evidence.rounds else "Somebody"
    how = _how(scene, looks)
    words = f"{who} goes round the joint place by place, both sides, along the parting line. {how}."
    effort = ASSUMED_EFFORT_MIN["round"] + sum(ASSUMED_EFFORT_MIN[sort] for _, _, sort in looks)
    return _proposal(scene, ("round with rods", "round with rods", words, effort), looks, goes_round=True)


def _proposal(
    scene: Scene, told: tuple[str, str, str, float], looks: Looks, *, goes_round: bool = False
) -> Proposal:
    """Nothing is in at any of them (nor at a place that nobody listed), or something is."""
    name, sort, words, effort = told
    now = moment_now(scene.evidence)
    agree, other = fresh_ledger(scene), fresh_ledger(scene)
    if goes_round:
        say_round(agree, scene, RoundMade(SOMEBODY_ELSE, now))
    for place, saw, _ in looks:
        say_look(agree, scene, Look(SOMEBODY_ELSE, place, saw, guided=True, moment=now))
    spots = [*(place for place, _, _ in looks), *((NOWHERE_LISTED,) if goes_round else ())]
    every = frozenset(line.id for line in scene.layout.lines)
    causes = [
        other.cause("misjudged", SOMEBODY_ELSE, name, words="another person misjudged what they found"),
        other.person(SOMEBODY_ELSE),
    ]
    ins = pieces_of(scene.layout, every, spots, ("in",))
    other.claim("look", ins, (">=", 1), causes, "something was found in")
    answers = (
        answer_of(agree, name, "nothing in", "nothing in at any of these places"),
        answer_of(other, name, "something in", "something found in"),
    )
    parts = tuple(f"{how} {place}" for place, _, how in looks)
    places = tuple(place for place, _, _ in looks)
    return Proposal(
        Check(name, effort, answers, words), sort, "nothing in", places=places, parts=parts, at=places
    )


def _how(scene: Scene, looks: Looks) -> str:
    """ "Places 1-3: put a rod or a light through each; place 4: look at the dowel of it ..." """
    labels = fresh_ledger(scene).labels
    by_sort: dict[str, list[str]] = {}
    for place, _, sort in looks:
        by_sort.setdefault(sort, []).append(labels.get(place) or place)
    first, *others = (deed_at(named, HOW[sort]).removesuffix(".") for sort, named in by_sort.items())
    return "; ".join((first, *(f"{words[0].lower()}{words[1:]}" for words in others)))
