"""Which events of a job still stand."""

from lastbolt.words.job import Event, Job, Undone


def standing(job: Job | None) -> tuple[tuple[int, Event], ...]:
    """The events that were not undone, in their order, each with its place in the job's list (from 0).

    An undo can itself be undone; undoes are no events of their own. An event that came twice, from two
    devices that hold the same record, stands once. What `vain_undoes` names takes nothing back.
    """
    events = job.events if job else ()
    vain = {number for number, _ in vain_undoes(job)}
    undone: set[str] = set()
    for number, event in reversed(tuple(enumerate(events))):
        if isinstance(event, Undone) and number not in vain and event.id not in undone:
            undone.add(event.undoes)
    first: dict[Event, int] = {}
    for number, event in enumerate(events):
        first.setdefault(event, number)
    return tuple(
        (number, event)
        for number, event in enumerate(events)
        if event.id not in undone and not isinstance(event, Undone) and first[event] == number
    )


def ids_of_several(job: Job | None) -> tuple[str, ...]:
    """Ids that different events carry, so that nobody can say which of them is meant."""
    first: dict[str, Event] = {}
    found = [event.id for event in (job.events if job else ()) if first.setdefault(event.id, event) != event]
    return tuple(dict.fromkeys(found))


def vain_undoes(job: Job | None) -> tuple[tuple[int, Undone], ...]:
    """Undoes that name no event before them, or one of several of its id, each with its place in the list."""
    events = job.events if job else ()
    several = set(ids_of_several(job))
    before: set[str] = set()
    found = []
    for number, event in enumerate(events):
        if isinstance(event, Undone) and (event.undoes not in before or event.undoes in several):
            found.append((number, event))
        before.add(event.id)
    return tuple(found)
