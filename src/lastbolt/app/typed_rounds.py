"""What "went round" covers: that person's words before it, place by place, and nothing typed later."""

import re
from collections.abc import Sequence

from msgspec.structs import replace

from lastbolt.tally.unused import NOBODY_SINCE, unused_words
from lastbolt.tally.wording import Beside
from lastbolt.words.evidence import Act, EvidencePlace, Look, RoundMade
from lastbolt.words.problem import Problem

_TYPED = re.compile(r"typed line (\d+)")


def guided_looks(looks: Sequence[Look], rounds: Sequence[RoundMade]) -> tuple[Look, ...]:
    """The looks, each guided if it was one on purpose or a later round of the same person covers it.

    Of a place that the person last called "not seen" the round says nothing.
    """
    return tuple(
        replace(look, guided=look.guided or any(_covers(round_, look, looks) for round_ in rounds))
        for look in looks
    )


def _covers(round_: RoundMade, look: Look, looks: Sequence[Look]) -> bool:
    if round_.by != look.by or round_.moment < look.moment:
        return False
    last = [other for other in looks if other.by == look.by and other.place == look.place]
    last = [other for other in last if other.moment <= round_.moment]
    return last[-1].saw != "cannot see"


def places_left_out(
    looks: Sequence[Look], acts: Sequence[Act], rounds: Sequence[RoundMade], places: Sequence[EvidencePlace]
) -> dict[str, tuple[str, ...]]:
    """By round (its event): labels of places of which that person had not spoken before it.

    Such a round missed a place, so it does not show that there is no further one.
    """
    found = {}
    said_of: tuple[Look | Act, ...] = (*looks, *acts)
    for round_ in rounds:
        told = {said.place for said in said_of if said.by == round_.by and said.moment <= round_.moment}
        missed = tuple(place.label for place in places if place.id not in told)
        if missed:
            found[round_.event] = missed
    return found


def answered_by_rounds(beside: Beside, rounds: Sequence[RoundMade]) -> Beside:
    """Without what is said of nobody having gone round since, where a later typed round is just that."""
    lines = [int(number[0]) for one in rounds if (number := re.findall(r"\d+", one.event))]
    gone = [
        one for one in beside.problems if one.code in NOBODY_SINCE and _line_of(one) < max(lines, default=0)
    ]
    words = unused_words(gone)
    return replace(
        beside,
        problems=tuple(one for one in beside.problems if one not in gone),
        unused=tuple(one for one in beside.unused if one not in words),
    )


def _line_of(problem: Problem) -> int:
    """The typed line that a problem is about; 0 for an event of a job file, before them all."""
    found = _TYPED.search(problem.where)
    return int(found[1]) if found else 0
