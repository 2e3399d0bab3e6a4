"""Which events of a job still stand."""

from lastbolt.words.job import Event, Job, Undone


def standing(job: Job | None) -> tuple[tuple[int, Event], ...]:
    """The events that were not undone, in their order, each with its place in the job's list (from 0).

    An undo can itself be undone; undoes are no events of their own. An event that came twice, from two
    devices that hold the same record, stands once.
    """
    events = job.events if job else ()
    undone: set[str] = set()
    for event in reversed(events):
        if isinstance(event, Undone) and event.id not in undone:
            undone.add(event.undoes)
    first: dict[Event, int] = {}
    for number, event in enumerate(events):
        first.setdefault(event, number)
    return tuple(
        (number, event)
        for number, event in enumerate(events)
        if event.id not in undone and not isinstance(event, Undone) and first[event] == number
    )
