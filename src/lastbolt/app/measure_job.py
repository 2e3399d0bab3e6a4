"""The readings of one job: the sheet of what is to be measured, and what every reading decides."""

from collections.abc import Iterator, Sequence
from hashlib import sha256

from msgspec import Struct
from msgspec.structs import replace

from lastbolt.app.limits_of_goal import job_lines, limits_of_goal, others, sections_of
from lastbolt.app.shims_asked import shims_asked
from lastbolt.measuring.differences import named
from lastbolt.measuring.how_told import with_sources
from lastbolt.measuring.matched import meant, nearest
from lastbolt.measuring.readings import Judged, Setting, judged
from lastbolt.measuring.sheet import Wanted, sheet_of
from lastbolt.measuring.tool_choice import tools_for
from lastbolt.measuring.tools import tool_named, with_taken
from lastbolt.measuring.typed import NotUnderstood, Typed
from lastbolt.selecting.shims import Shim
from lastbolt.words.back import Back
from lastbolt.words.job import (
    JOB_SCHEMA,
    Event,
    Job,
    Measured,
    QuestionAnswered,
    SetAside,
    ToolTaken,
    Undone,
    ZeroChecked,
)
from lastbolt.words.machine import Machine
from lastbolt.words.plan import Plan
from lastbolt.words.problem import Problem
from lastbolt.words.readings import READINGS_SCHEMA, Readings, ShopTool, Size
from lastbolt.words.where import places

PAPER = "typed from paper"


class Bench(Struct, frozen=True):
    """What was measured, with what, and the shims in stock (None: no list was given)."""

    job: Job | None = None
    typed: Typed = Typed()
    tools: tuple[ShopTool, ...] = ()
    stock: tuple[Shim, ...] | None = None
    setting: Setting = Setting()
    all_limits: bool = False


def measure_job(machine: Machine, plan: Plan | None, back: Back | None, bench: Bench) -> Readings:
    """The sheet, every size measured and what it decides, shims chosen, and what was not understood."""
    sheet, beside = sizes_of(machine, plan, back, bench)
    sizes = (*sheet, *beside)
    job = job_with(bench.job, bench.typed)
    tools = with_taken(bench.tools, job)
    found = judged(job, sizes, tools, bench.setting)
    done = {one.limit for one in found.decided}
    shims, told = shims_asked(bench.typed, found, sizes, bench.stock, tools)
    told = (*told, *_without_limit(found, bench.typed, sizes))
    lines = {event: f"line {line}" for event, line in bench.typed.lines.items()}
    problems = (
        *(not_understood(one) for one in bench.typed.wrong), *_clashes(sheet),
        *(replace(one, where=lines.get(one.where, one.where)) for one in (*found.problems, *told)),
    )  # fmt: skip
    needed = [line.procedure for line in job_lines(plan, back)]
    sections = {limit: section.id for limit, section in sections_of(machine).items()}
    sheet = with_sources(_with_tools(sheet, tools, bench), machine, needed, sections)
    return Readings(
        READINGS_SCHEMA, plan.goal if plan else "", machine.name, sheet, found.decided, found.sizes,
        tuple(one.number for one in sheet if one.limit not in done), len(beside), shims, bench.setting.rule,
        problems,
    )  # fmt: skip


def _with_tools(sheet: Sequence[Size], tools: Sequence[ShopTool], bench: Bench) -> tuple[Size, ...]:
    return tuple(replace(one, at_hand=tools_for(one, tools, bench.setting.today)) for one in sheet)


def sizes_of(
    machine: Machine, plan: Plan | None, back: Back | None, bench: Bench
) -> tuple[tuple[Size, ...], tuple[Size, ...]]:
    """The lines of the sheet, and the other sizes of the sources, which have no number on it."""
    wanted = limits_of_goal(machine, plan, back)
    rest = others(machine, wanted)
    paper = tuple(Wanted(limit, PAPER) for limit in bench.typed.limits)
    sheet = sheet_of((*wanted, *paper, *(rest if bench.all_limits else ())))
    return sheet, () if bench.all_limits else tuple(replace(one, number=0) for one in sheet_of(rest))


def before_work(job: Job | None) -> Job | None:
    """The job with what was answered and nothing done: the sheet is the same from first day to last."""
    if job is None:
        return None
    answers = tuple(event for event in job.events if isinstance(event, QuestionAnswered | SetAside | Undone))
    return replace(job, events=answers)


def job_with(job: Job | None, typed: Typed) -> Job | None:
    """The job with the typed events behind its own."""
    if not typed.events:
        return job
    return replace(job or Job(JOB_SCHEMA, "typed", ""), events=(*(job.events if job else ()), *typed.events))


def events_to_keep(typed: Typed, sizes: Sequence[Size], tools: Sequence[ShopTool]) -> tuple[Event, ...]:
    """The typed events as a job keeps them: the tools used come first, each size goes by its limit's id."""
    used = dict.fromkeys(one.tool for one in typed.events if isinstance(one, Measured | ZeroChecked))
    kept: list[Event] = []
    by = next((one.by for one in typed.events), "")
    for name in used:
        tool = tool_named(name, tools)
        if tool is not None:
            kept.append(_taken(tool, by))
    for event in typed.events:
        if not isinstance(event, Measured):
            kept.append(event)
            continue
        found = meant(event.limit or event.what, sizes)
        own = tool_named(event.tool, tools)
        kept.append(
            replace(
                event,
                limit=found.size.limit if found.size and found.size.why != PAPER else "",
                what=event.what if found.size is None or found.size.why == PAPER else "",
                of=event.of or found.of,
                unit=event.unit or (own.unit if own else ""),
            )
        )
    return tuple(kept)


def _taken(tool: ShopTool, by: str) -> ToolTaken:
    """The tool as an event; its id tells it from the same tool with another certificate."""
    made = ToolTaken(
        id="", by=by, name=tool.name, kind=tool.kind, unit=tool.unit, low=tool.low, high=tool.high,
        resolution=tool.resolution, uncertainty=tool.uncertainty, calibrated_until=tool.calibrated_until,
    )  # fmt: skip
    return replace(made, id=f"tool-{sha256(repr(made).encode()).hexdigest()[:8]}")


def not_understood(one: NotUnderstood) -> Problem:
    """A typed line that says nothing here."""
    do = "Say it in other words (docs/measuring.md), or strike it."
    return Problem("LB-M04", f'"{one.text}" is not understood: {one.why}.', f"line {one.line}", do)


def _without_limit(found: Judged, typed: Typed, sizes: Sequence[Size]) -> Iterator[Problem]:
    """Sizes that no limit is about and nothing is reckoned with: a name that was mistyped, most often."""
    names = [name for one in found.used for name in one] + [one.named for one in typed.shims]
    known = (*found.sizes, *found.decided)
    used = {id(size) for name in names if name and (size := named(name, known, sizes)) is not None}
    for one in found.sizes:
        if one.tool or one.spots:
            if id(one) in used:
                continue
            near = "; ".join(size.what for size in nearest(one.what, sizes))
            do = f"Name it as the sheet does{f' ({near})' if near else ''}, or reckon with it: NAME = A - B."
            yield Problem("LB-M14", f'No limit is about "{one.what}": it decides nothing.', one.events[0], do)


def _clashes(sheet: Sequence[Size]) -> tuple[Problem, ...]:
    """Limits that contradict themselves: told, and not used."""
    return tuple(
        Problem(
            "LB-M07", f"{one.what}: {one.barred}. It decides nothing.", places(one.citations) or one.limit,
            "Ask the maker, or put it right in the model (lastbolt correct).",
        )
        for one in sheet if one.barred
    )  # fmt: skip
