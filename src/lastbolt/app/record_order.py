"""The events of a record in one line, as the job's own words take them.

A record has no single order; the job file has one. The line keeps every event after its past, and puts each
count as early as that allows, so that what others did meanwhile stands after it and widens it.
"""

from msgspec import Struct

from lastbolt.record.chains import Record
from lastbolt.record.sealed import Hash, SealedEvent


class InLine(Struct, frozen=True):
    """Events in a line; `crowded`: counts, each with the acts that stand before it and did not know of it."""

    events: tuple[SealedEvent, ...]
    crowded: dict[Hash, tuple[Hash, ...]]


def in_line(record: Record, events: tuple[SealedEvent, ...]) -> InLine:
    """These events (present ones, in canonical order) in one line."""
    placed: dict[Hash, SealedEvent] = {}
    crowded: dict[Hash, tuple[Hash, ...]] = {}
    for count in (one for one in events if one.tag == "counted"):
        past = record.past(count.hash)
        stand = tuple(name for name, one in placed.items() if one.kind == "act" and name not in past)
        if stand:
            crowded[count.hash] = stand
        placed.update((one.hash, one) for one in events if one.hash in past and one.hash not in placed)
        placed[count.hash] = count
    placed.update((one.hash, one) for one in events if one.hash not in placed)
    return InLine(tuple(placed.values()), crowded)
