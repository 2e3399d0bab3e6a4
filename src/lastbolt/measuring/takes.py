"""What was read, event by event, with the tool, its zero check, and the size that is meant."""

from collections.abc import Sequence

from msgspec import Struct

from lastbolt.measuring.dimensions import words_of
from lastbolt.measuring.matched import meant
from lastbolt.measuring.part_names import part_names
from lastbolt.measuring.tools import tool_named, tool_words
from lastbolt.words.job import (
    Job,
    Measured,
    PutIn,
    ReadingConfirmed,
    Renewed,
    Slackened,
    Tightened,
    TookOut,
    ZeroChecked,
)
from lastbolt.words.problem import Problem
from lastbolt.words.readings import ShopTool, Size
from lastbolt.words.standing import standing

ACTS = (TookOut, PutIn, Tightened, Slackened, Renewed)
"""After any of these a setting is another."""


class Take(Struct, frozen=True):
    """One event of readings. `size` None: no limit is about it. `zero`: the check before it, if any."""

    event: Measured
    tool: ShopTool
    size: Size | None = None
    of: str = ""
    zero: ZeroChecked | None = None
    confirmed: bool = False
    acts: int = 0
    """How many fasteners and parts were handled before it."""

    @property
    def name(self) -> str:
        """What was measured."""
        return self.size.what if self.size else self.event.what

    @property
    def key(self) -> tuple[str, str]:
        """All takes with one key are of one size of one part."""
        name = self.size.limit if self.size else " ".join(self.event.what.casefold().split())
        return name, " ".join(self.of.casefold().split())

    @property
    def zeroed(self) -> bool:
        """Whether its tool was checked before, or needs no check."""
        return self.zero is not None or self.tool.kind in tool_words()["no_zero"]["kinds"]


class Taken(Struct, frozen=True):
    """All takes in order; those that are differences of others; what nobody could place."""

    takes: tuple[Take, ...]
    differences: tuple[Take, ...]
    problems: tuple[Problem, ...]


def taken(job: Job | None, sizes: Sequence[Size], tools: Sequence[ShopTool]) -> Taken:
    """What the job's events measure; a reading from before its part was renewed is of the old part."""
    zeros: dict[str, ZeroChecked] = {}
    found: list[Take] = []
    acts = 0
    problems: list[Problem] = []
    confirmed = {event.reading for _, event in standing(job) if isinstance(event, ReadingConfirmed)}
    for _, event in standing(job):
        acts += isinstance(event, ACTS)
        if isinstance(event, ZeroChecked):
            zeros[_tool(event.tool, "", tools).name] = event
        elif isinstance(event, Renewed):
            found = [take for take in found if not _was_of(take, event)]
        elif isinstance(event, Measured):
            take, problem = _take(event, sizes, tools)
            if problem:
                problems.append(problem)
            else:
                zero = zeros.get(take.tool.name)
                made = Take(take.event, take.tool, take.size, take.of, zero, event.id in confirmed, acts)
                found = [*_still_so(found, made), made]
    return Taken(
        tuple(take for take in found if not take.event.difference),
        tuple(take for take in found if take.event.difference),
        tuple(problems),
    )


def _still_so(found: list[Take], made: Take) -> list[Take]:
    """The takes that still count: a float is another once something was put in, tightened or set."""
    if not made.event.anew and (made.size is None or made.size.beyond != "set"):
        return found
    return [
        take for take in found
        if take.key != made.key or (take.acts == made.acts and not made.event.anew)
    ]  # fmt: skip


def _tool(name: str, unit: str, tools: Sequence[ShopTool]) -> ShopTool:
    return tool_named(name, tools) or ShopTool(name.strip(), unit=unit, listed=False)


def _take(event: Measured, sizes: Sequence[Size], tools: Sequence[ShopTool]) -> tuple[Take, Problem | None]:
    tool = _tool(event.tool, event.unit, tools)
    said = event.limit or event.what
    found = meant(said, sizes)
    if not (event.readings or event.difference):
        what = f'A reading of "{said}" holds no number.'
        return Take(event, tool), Problem("LB-M15", what, event.id, "Add its readings, or undo the event.")
    take = Take(event, tool, found.size, event.of or found.of)
    if found.size is None and (found.near or event.limit) and not _is_plain_size(event, found.near):
        names = "; ".join(f"{one.number} {one.what}" for one in found.near)
        what = f'"{said}" fits more than one size of the sheet: {names}.'
        if not found.near:
            what = f'No limit of the sources is "{said}".'
        do = "Say it by its number on the sheet, or with more of the source's words."
        return take, Problem("LB-M05", what, event.id, do)
    return take, None


def _is_plain_size(event: Measured, near: Sequence[Size]) -> bool:
    """A name of its own, which only shares a word or two with limits."""
    own = set(words_of(event.what))
    return not event.limit and all(own - set(words_of(one.what)) for one in near)


def _was_of(take: Take, event: Renewed) -> bool:
    if take.size is None or (take.size.beyond == "set"):
        return False
    renewed = event.part.casefold().split()
    return any(renewed == name.casefold().split() for name in part_names(take.size))
