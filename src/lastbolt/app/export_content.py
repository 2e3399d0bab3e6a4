"""A plan as a document of another standard needs it: what is required, what to do in order, how it goes back.

The same content goes into every form; the forms only give it their element names.
"""

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from lastbolt.app.before_shown import head_of
from lastbolt.app.export_words import (
    STOP,
    asides_of,
    count_words,
    facts_of,
    limited,
    places_of,
    titles_of,
    words_of,
)
from lastbolt.app.fastening_shown import fastening_at, fastening_words
from lastbolt.app.plan_shown import plan_state
from lastbolt.planning.force import stops
from lastbolt.words.machine import SIGNALS, Deed, Machine, Signal
from lastbolt.words.plan import Fastening, Line, NewPart, Plan, ReadyKind, Return, ReturnHow

FIRST = "The maker's current manual, local codes and licensed practice come first."
BY_ITSELF: dict[ReturnHow, str] = {
    "reverse of removal": "In the reverse of removal",
    "procedure": "By a section of its own",
    "step": "By a step of its own",
}
"""How something goes back on whose section nobody names."""
TAKEN_FOR_DONE = "Taken for done: confirm each before going on."


class Said(NamedTuple):
    """Words, the places of the sources behind them, and what a person does about it."""

    words: str
    places: tuple[str, ...] = ()
    do: str = ""


class Warned(NamedTuple):
    """A warning, caution or note with its places."""

    signal: Signal
    words: str
    places: tuple[str, ...] = ()


class Part(NamedTuple):
    """A tool, a supply or a spare: what it is, and how many where the parts list says it."""

    name: str
    many: str = ""
    places: tuple[str, ...] = ()


class Doing(NamedTuple):
    """One line of the checklist that somebody does, confirms, sees to or answers; `number` is its place."""

    number: int
    words: str
    facts: tuple[str, ...]
    asides: tuple[str, ...]
    cautions: tuple[Warned, ...]
    places: tuple[str, ...]


class Group(NamedTuple):
    """Lines of one procedure in a row, under what begins there."""

    heads: tuple[Said, ...]
    cautions: tuple[Warned, ...]
    lines: tuple[Doing, ...]


class Content(NamedTuple):
    """A plan ready to be written in any form.

    `state` says whether it is the whole. `general`: the warnings for all work. `required`: what must be
    settled or true before the work starts.
    `before_off`: what must happen while things are still in place. `to_compare`: where the sources disagree.
    """

    title: str
    part: str
    deed: Deed
    engine: str
    goal: str
    state: str
    complete: bool
    sources: tuple[str, ...]
    general: tuple[Warned, ...]
    required: tuple[Said, ...]
    before_off: tuple[Said, ...]
    to_compare: tuple[Said, ...]
    tools: tuple[Part, ...]
    supplies: tuple[Part, ...]
    spares: tuple[Part, ...]
    groups: tuple[Group, ...]
    goes_back: tuple[Said, ...]
    left_out: tuple[Said, ...]


def content_of(plan: Plan, machine: Machine) -> Content:
    """The plan's content; the machine gives titles, and counts of spares."""
    goals = [one for one in machine.procedures if one.id in plan.procedures]
    only = goals[0] if len(goals) == 1 else None
    titles = _source_titles(machine)
    return Content(
        title=(only.title if only else "") or plan.goal,
        part=(only.parts[0] if only and only.parts else "") or plan.machine or machine.name,
        deed=only.deed if only else "other",
        engine=_engine(plan),
        goal=plan.goal,
        state=plan_state(plan).replace("listed below", "named in the required conditions"),
        complete=plan.complete,
        sources=_sources(machine),
        general=tuple(_general(plan, titles)),
        required=tuple(_required(plan, titles)),
        before_off=tuple(_before_off(plan, titles)),
        to_compare=tuple(_to_compare(plan, titles)),
        tools=tuple(_ready("tool", plan, titles)),
        supplies=tuple(_ready("supply", plan, titles)),
        spares=tuple(_spare(part, machine, titles) for part in plan.way_back.new_parts),
        groups=tuple(_groups(plan, machine, titles)),
        goes_back=tuple(_goes_back(plan, machine, titles)),
        left_out=tuple(
            Said(f"{one.words}: {one.why}{f', {one.by}' if one.by else ''}", places_of(one.citations, titles))
            for one in plan.left_out
        ),
    )


def notices_of(content: Content) -> tuple[str, ...]:
    """What stands before everything else: that the plan is not the whole, if it is not; what comes first."""
    if content.complete:
        return (FIRST,)
    return (f"This plan is not complete. {content.state}", FIRST)


def _source_titles(machine: Machine) -> dict[str, str]:
    return {source.id: source.title for source in machine.sources}


def _sources(machine: Machine) -> tuple[str, ...]:
    """Title, edition and file of each source; what the title says already is not said again."""
    told: dict[str, None] = {}
    for source in machine.sources:
        said = source.title or source.id
        for part in (source.edition, source.file):
            if part and part not in said:
                said = f"{said}, {part}"
        told[said] = None
    return tuple(told)


def _engine(plan: Plan) -> str:
    said = (plan.engine, plan.variant and f"variant {plan.variant}")
    serial = f"serial number {plan.serial}" if plan.serial is not None else ""
    return ", ".join(part for part in (*said, serial) if part)


def _general(plan: Plan, titles: dict[str, str]) -> Iterator[Warned]:
    """The warnings for all work. Words of a section on safety that have no signal word are warnings."""
    for item in plan.general:
        signal = SIGNALS.get(item.signal.lower())
        words = item.words if signal else f"{item.signal}: {item.words}"
        yield Warned(signal or "warning", words, places_of(item.citations, titles))


def _ready(kind: ReadyKind, plan: Plan, titles: dict[str, str]) -> Iterator[Part]:
    """Tools or supplies to lay ready, in the order in which the plan comes to them."""
    for item in plan.ready:
        if item.kind == kind:
            yield Part(item.words, places=places_of(item.citations, titles))


def _required(plan: Plan, titles: dict[str, str]) -> Iterator[Said]:
    """What keeps the plan from being the whole, then what the sources require in words."""
    for point in plan.open:
        yield Said(f"Open: {point.words}", places_of(point.citations, titles), point.do)
    told: set[str] = set()
    for line in plan.lines:
        if line.kind == "condition" and line.words not in told:
            told.add(line.words)
            yield Said(line.words, places_of(line.citations, titles))


def _before_off(plan: Plan, titles: dict[str, str]) -> Iterator[Said]:
    told: set[str] = set()
    for item in plan.before_off:
        words = f"{head_of(item.kind)}: {item.words}"
        if words not in told:
            told.add(words)
            yield Said(words, places_of(item.citations, titles))


def _to_compare(plan: Plan, titles: dict[str, str]) -> Iterator[Said]:
    told = {point.words for point in plan.open}
    for problem in plan.problems:
        if problem.what not in told:
            told.add(problem.what)
            places = places_of(problem.citations, titles) or ((problem.where,) if problem.where else ())
            yield Said(f"{problem.what} {problem.do}", places)


def _spare(part: NewPart, machine: Machine, titles: dict[str, str]) -> Part:
    """The part with its numbers; its count where one row of the parts list gives one count."""
    rows = [row for row in machine.rows if row.id in part.rows]
    count = count_words(rows[0].quantity) if len(rows) == 1 and rows[0].quantity.kind == "exactly" else ""
    numbers = f" ({', '.join(part.part_numbers)})" if part.part_numbers else ""
    return Part(f"{part.part}{numbers}", count, places_of(part.citations, titles))


def _goes_back(plan: Plan, machine: Machine, titles: dict[str, str]) -> Iterator[Said]:
    """First how the joint's own fasteners go back, and what no source puts back; then the sections that put
    back, in order, each with its parts; last the other torques."""
    back = plan.way_back
    own = [one for one in back.fastenings if one.of in plan.procedures]
    yield from (_fastened(one, titles) for one in own)
    owner = {step.id: one.id for one in machine.procedures for step in one.steps}
    by: dict[str, list[Return]] = {one: [] for one in back.procedures}
    for item in back.returns:
        if item.how == "none":
            words = f"No source says how this goes back on: {item.part}."
            yield Said(words, places_of(item.off_citations, titles))
        for to in dict.fromkeys(owner.get(one, one) for one in item.on_by) if item.how != "none" else ():
            by.setdefault(to, []).append(item)
    for to, items in by.items():
        yield _puts_back(titles_of((to,), machine)[0], items, titles)
    for how, name in BY_ITSELF.items():
        alone = [item for item in back.returns if item.how == how and not item.on_by]
        if alone:
            yield _puts_back(name, alone, titles)
    yield from (_fastened(one, titles) for one in back.fastenings if one not in own)


def _fastened(one: Fastening, titles: dict[str, str]) -> Said:
    return Said(f"{fastening_at(one)}: {fastening_words(one)}", places_of(one.citations, titles))


def _puts_back(name: str, items: Sequence[Return], titles: dict[str, str]) -> Said:
    parts = dict.fromkeys(
        f"{item.part} (except: {'; '.join(item.exceptions)})" if item.exceptions else item.part
        for item in items
    )
    places = places_of((one for item in items for one in item.on_citations[:1]), titles)
    return Said(f"{name}: {', '.join(parts)}." if parts else f"{name}.", places)


def _groups(plan: Plan, machine: Machine, titles: dict[str, str]) -> Iterator[Group]:
    """The lines in the plan's own order, parted where another procedure begins or is taken up again.

    An opening under which nothing stands before the next one lends its head and warnings to the lines that
    follow; where nothing at all was read of its procedure, a line says so.
    """
    force = stops(plan)
    empty = {one.id for one in machine.procedures if not one.steps}
    opened: dict[str, Line] = {}
    title_of = {line.procedure: line for line in plan.lines if line.kind == "opening"}
    heads: list[Said] = []
    cautions: list[Warned] = []
    lines: list[Doing] = []
    now = ""
    for number, line in enumerate(plan.lines, 1):
        under = "confirm" if line.kind == "confirm" else line.procedure
        if lines and (line.kind == "opening" or under != now):
            yield Group(tuple(heads), tuple(cautions), tuple(lines))
            heads, cautions, lines = [], [], []
        if line.kind == "opening":
            opened[line.procedure], now = line, line.procedure
            heads.append(_head(line, titles))
            cautions += _warned(line, titles)
            if line.procedure in empty:
                lines.append(
                    _bare(number, line, titles, "no step of this section was read. Do it by the source")
                )
            continue
        if under != now:
            heads.append(_again(line, opened, title_of, machine))
            now = under
        lines.append(_doing(number, line, machine, titles, force))
    if not plan.lines:
        lines.append(Doing(0, "Nothing to do is planned.", (), (), (), ()))
    if heads and not lines:
        lines.append(_bare(len(plan.lines), plan.lines[-1], titles, "no step of it is planned"))
    if lines:
        yield Group(tuple(heads), tuple(cautions), tuple(lines))


def _head(line: Line, titles: dict[str, str]) -> Said:
    doubt = f" Read with doubt: {line.doubt}." if line.doubt else ""
    name = limited(line.only_if, f"{line.number} {line.words}".strip())
    return Said(f"{name}.{doubt} {line.question}".strip(), places_of(line.citations, titles))


def _again(line: Line, opened: dict[str, Line], title_of: dict[str, Line], machine: Machine) -> Said:
    """The head of lines whose procedure was left before, has not begun yet, or is taken for done."""
    if line.kind == "confirm":
        return Said(TAKEN_FOR_DONE)
    begun = title_of.get(line.procedure)
    if begun is None:
        return Said(f"For {titles_of((line.procedure,), machine)[0]}.")
    name = f"{begun.number} {begun.words}".strip()
    return Said(f"{name} (continued)." if line.procedure in opened else f"Before {name}.")


def _doing(number: int, line: Line, machine: Machine, titles: dict[str, str], force: frozenset[str]) -> Doing:
    cautions = _warned(line, titles)
    if line.id in force:
        cautions.insert(0, Warned("caution", f"STOP. {STOP}"))
    return Doing(
        number, words_of(line), facts_of(line), asides_of(line, machine), tuple(cautions),
        places_of(line.citations, titles),
    )  # fmt: skip


def _bare(number: int, opening: Line, titles: dict[str, str], why: str) -> Doing:
    """What stands for an opening without steps, so that its head and warnings have a line to stand at."""
    return Doing(number, f"{opening.words}: {why}.", (), (), (), places_of(opening.citations, titles))


def _warned(line: Line, titles: dict[str, str]) -> list[Warned]:
    return [Warned(one.signal, one.words, places_of(one.citations, titles)) for one in line.cautions]
