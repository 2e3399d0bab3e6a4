"""Fasteners that went into the wrong hole, as far as depths, lengths and heads tell: they keep a job open."""

from collections.abc import Iterable, Iterator, Sequence

from lastbolt.app.lengths_of_joint import heads_of
from lastbolt.words.account import Stands
from lastbolt.words.job import Job
from lastbolt.words.joint import Walk
from lastbolt.words.lengths import Placed
from lastbolt.words.torque_map import TorqueMap

LENGTH = "Take it out. Put in the length that belongs there, after blowing the hole clear."
HEADS = "Take them out, compare lengths and depths, and measure the heads again before tightening."


def wrong_holes(maps: Iterable[TorqueMap], walks: Sequence[Walk], job: Job | None) -> Iterator[Stands]:
    """What went in and bottoms, is too short or is another length than the source says; then heads that do
    not stand as the others do."""
    for made in maps:
        labels = {one.place: one.label for one in made.places}
        for one in made.lengths.placed if made.lengths else ():
            if one.is_in and _wrong(one):
                at = labels.get(one.place, one.place)
                yield Stands("slack", f"Place {at}: x{one.length_mm:g} {one.why}", LENGTH)
    for walk in walks:
        for odd in heads_of(walk, job):
            yield Stands("slack", f"{walk.name or walk.joint}: {odd.words}", HEADS)


def _wrong(one: Placed) -> bool:
    """Whether it does not hold there, or nobody knows whether it does and the source names another."""
    if one.length_mm is None:
        return False
    return one.fit.says in ("bottoms", "short", "other thread") or (
        one.fit.says == "not known" and not one.as_said and "the source says" in one.why
    )
