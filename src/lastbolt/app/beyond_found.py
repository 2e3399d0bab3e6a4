"""Readings beyond the limit of a part: it cannot go back, and a new one is wanted."""

from collections.abc import Sequence

from msgspec.structs import replace

from lastbolt.app.limits_of_goal import limits_of_goal
from lastbolt.app.measure_shown import limit_words, named, value_words
from lastbolt.measuring.dimensions import words_of
from lastbolt.measuring.part_names import part_names
from lastbolt.measuring.readings import Setting, judged
from lastbolt.measuring.sheet import sheet_of
from lastbolt.measuring.tools import with_taken
from lastbolt.words.job import Event, FoundBad, Job, Measured
from lastbolt.words.machine import Machine, PartsRow
from lastbolt.words.readings import Decided, ShopTool, Size
from lastbolt.words.standing import standing


def with_beyond(machine: Machine, job: Job | None, tools: Sequence[ShopTool] = ()) -> Job | None:
    """The job, and behind each reading that is beyond a part's limit that the part was found so.

    Settings (end float, backlash, lash) are shimmed or set and find no part bad. A part that somebody said
    himself to be beyond its limit is not said twice. Without readings the job comes back as it is.
    """
    if job is None or not any(isinstance(event, Measured) for event in job.events):
        return job
    sizes = sheet_of(limits_of_goal(machine, None, None))
    by_id = {one.limit: one for one in sizes}
    found = judged(job, sizes, with_taken(tools, job), Setting())
    bad: dict[tuple[str, str], list[Decided]] = {}
    for one in found.decided:
        if one.says == "beyond" and one.beyond == "part":
            bad.setdefault(_part(by_id[one.limit], machine.rows), []).append(one)
    made = [_found(part, row, some) for (part, row), some in bad.items()]
    events = job.events
    for last, event in made:
        own = next((one for _, one in standing(job) if _says_the_same(one, event)), None)
        events = _behind(events, last, event) if own is None else _with_page(events, own, event)
    return replace(job, events=events)


def _says_the_same(one: Event, found: FoundBad) -> bool:
    """Whether somebody said himself that this part is beyond its limit."""
    if not isinstance(one, FoundBad) or one.how != "beyond limit":
        return False
    same_name = one.part.strip().casefold() == found.part.casefold()
    return (one.row == found.row) if one.row and found.row else same_name


def _with_page(events: Sequence[Event], own: Event, found: FoundBad) -> tuple[Event, ...]:
    """The person's own word, with what was measured and where its limit stands."""
    if not isinstance(own, FoundBad) or own.citations:
        return tuple(events)
    words = "; ".join(part.rstrip(" .") for part in (own.words, found.words) if part)
    fuller = replace(own, words=words, citations=found.citations)
    return tuple(fuller if event == own else event for event in events)


def _part(size: Size, rows: Sequence[PartsRow]) -> tuple[str, str]:
    """The part's name and its row, where one alone is meant; of two that wear together both names."""
    names = part_names(size)
    found = [_row(name, rows) for name in names]
    row = found[0] if len(names) == 1 else None
    if row is not None:
        return row.name, row.id
    return (" or ".join(names) if len(names) > 1 else names[0]), ""


def _row(name: str, rows: Sequence[PartsRow]) -> PartsRow | None:
    """The row of just that name, in whatever order ("Shaft, output"); else the one that begins with it."""
    words = sorted(words_of(name))
    whole = [row for row in rows if sorted(words_of(row.name)) == words]
    begins = [row for row in rows if sorted(words_of(row.name.partition(",")[0])) == words]
    for found in (whole, begins):
        if found:
            # One part may stand in several figures; two parts of one name are nobody's guess.
            return found[0] if len({row.part_number for row in found}) == 1 else None
    return None


def _found(part: str, row: str, some: Sequence[Decided]) -> tuple[str, FoundBad]:
    """The event it comes behind, and what was found."""
    words = "; ".join(f"{named(one)}: {value_words(one)}, {_lower(limit_words(one))}" for one in some)
    last = some[-1].events[-1]
    by = next((reader for one in some for reader in one.readers), "")
    return last, FoundBad(
        id=f"beyond/{last}", by=by, part=part, how="beyond limit", row=row,
        count=len({one.of for one in some}),
        words=words, citations=tuple(dict.fromkeys(c for one in some for c in one.citations[:1])),
    )  # fmt: skip


def _lower(words: str) -> str:
    return f"{words[:1].lower()}{words[1:]}"


def _behind(events: Sequence[Event], last: str, made: FoundBad) -> tuple[Event, ...]:
    found: list[Event] = []
    for event in events:
        found.append(event)
        if event.id == last:
            found.append(made)
    return tuple(found)
