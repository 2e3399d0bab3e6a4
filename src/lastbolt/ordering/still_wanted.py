"""How many of a part are still to be ordered, when new ones went in already."""

from collections.abc import Callable, Sequence

from lastbolt.ordering.parts_book import Wish
from lastbolt.ordering.prices import number_key
from lastbolt.words.job import FoundBad, Job, Renewed
from lastbolt.words.standing import standing


def still_wanted(
    count: Callable[[Sequence[Wish]], int],
    wishes: Sequence[Wish],
    rows: Sequence[str],
    number: str,
    job: Job | None,
) -> int | None:
    """How many, by the order of what was said: a new one that was found bad later is wanted again.

    Args:
        count: how many some of the wishes ask for together; 0: nobody says how many
        wishes: all reasons for this part
        rows: its rows of the parts list
        number: its part number there
        job: what was found and renewed
    Returns:
        None: new ones went in for all of them; 0: still wanted, nobody says how many
    """
    named = {wish.name.strip().casefold() for wish in wishes}
    found = {wish.reason.event: wish for wish in wishes if wish.reason.event}
    before = [wish for wish in wishes if not wish.reason.event]
    left: int | None = None
    for _, event in standing(job):
        if isinstance(event, FoundBad) and event.id in found and left is None:
            before.append(found[event.id])
        elif isinstance(event, FoundBad) and event.id in found:
            left = (left or 0) + event.count
        elif isinstance(event, Renewed) and _is(event, named, rows, number):
            left = max(0, (count(before) if left is None else left) - event.count)
    return count(wishes) if left is None else left or None


def _is(event: Renewed, named: set[str], rows: Sequence[str], number: str) -> bool:
    if event.row:
        return event.row in rows
    if event.part_number:
        return number_key(event.part_number) == number_key(number)
    return event.part.strip().casefold() in named
