"""The put-in list: rags, plugs, pins, guide studs, tools that must come out again before closing."""

from lastbolt.words.account import LeftIn
from lastbolt.words.job import Job, LaidIn, TakenAway
from lastbolt.words.standing import standing


def put_in_list(job: Job | None) -> tuple[LeftIn, ...]:
    """What was laid in, less what was taken away, thing by thing; a count below zero: more came out."""
    counts: dict[str, LeftIn] = {}
    for _, event in standing(job):
        if isinstance(event, LaidIn | TakenAway):
            key = event.thing.strip().casefold().removesuffix("s")
            old = counts.get(key, LeftIn(event.thing, 0))
            more = event.count if isinstance(event, LaidIn) else -event.count
            counts[key] = LeftIn(old.thing, old.count + more, event.where or old.where, event.by)
    return tuple(one for one in counts.values() if one.count)
