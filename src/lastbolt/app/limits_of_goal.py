"""Which of the sources' limits a goal needs, and why each."""

from bisect import bisect_right
from collections.abc import Iterable, Iterator, Mapping

from msgspec.structs import replace

from lastbolt.measuring.dimensions import words_of
from lastbolt.measuring.part_names import names_no_part
from lastbolt.measuring.sheet import Wanted
from lastbolt.words.back import Back
from lastbolt.words.citation import PdfPlace, TextPlace, XmlPlace
from lastbolt.words.machine import Machine, Procedure, Section, Step
from lastbolt.words.measured import Limit
from lastbolt.words.plan import Line, Plan

SMALL_TABLE = 30
"""Lines of a table of limits that belongs to a job as a whole when the job's steps refer to it."""


def limits_of_goal(machine: Machine, plan: Plan | None, back: Back | None) -> tuple[Wanted, ...]:
    """The limits that the sections of a plan and of its way back need, in the order of the sources.

    Those that a step states; those of a table in one of its sections, or to which one of its steps refers;
    those that name a part which comes off. Without a plan: all.
    """
    if plan is None:
        return tuple(Wanted(limit) for limit in _every(machine))
    lines = job_lines(plan, back)
    steps = {line.step for line in lines if line.step}
    procedures = {line.procedure for line in lines if line.procedure}
    found: dict[str, Wanted] = {}
    for procedure in machine.procedures:
        for step in procedure.steps:
            if step.id in steps:
                why = f"stands at {procedure.number} step {step.mark}".strip()
                found.update({limit.id: Wanted(_with_part(limit, step), why) for limit in step.limits})
    sections = sections_of(machine)
    referred = _referred(machine, lines, procedures)
    sizes: dict[str, int] = {}
    for section in sections.values():
        sizes[section.id] = sizes.get(section.id, 0) + 1
    names = _names(plan, back)
    for limit in machine.limits:
        why = _why(limit, sections.get(limit.id), procedures, referred, sizes) or _named(limit, names)
        if why:
            found.setdefault(limit.id, Wanted(limit, why))
    return tuple(found.values())


def job_lines(plan: Plan | None, back: Back | None) -> tuple[Line, ...]:
    """All lines of a job: apart, and back."""
    return (*(plan.lines if plan else ()), *(one.line for one in (back.lines if back else ())))


def others(machine: Machine, wanted: Iterable[Wanted]) -> tuple[Wanted, ...]:
    """All limits of the sources that are not among those wanted."""
    known = {one.limit.id for one in wanted}
    return tuple(Wanted(limit) for limit in _every(machine) if limit.id not in known)


def _every(machine: Machine) -> Iterator[Limit]:
    for procedure in machine.procedures:
        for step in procedure.steps:
            yield from (_with_part(limit, step) for limit in step.limits)
    yield from machine.limits


def _with_part(limit: Limit, step: Step) -> Limit:
    """A limit that names no part ("Minimum thickness 4.5 mm") with the part that its step names."""
    if not names_no_part(limit.what):
        return limit
    own = words_of(limit.what)
    names = dict.fromkeys(one.name for one in step.mentions if set(words_of(one.name)) - set(own))
    if len(names) != 1:
        return limit
    name = next(iter(names))
    return replace(limit, what=f"{name[:1].upper()}{name[1:]}, {limit.what}", part=name)


def _why(
    limit: Limit,
    section: Section | None,
    procedures: set[str],
    referred: Mapping[str, str],
    sizes: Mapping[str, int],
) -> str:
    if section is None:
        return ""
    own = section.id.replace("/section/", "/procedure/", 1)
    if own in procedures:
        return f"stands in {section.number or section.title}"
    by = referred.get(section.id, "")
    return f"{by} refers to its table" if by and sizes.get(section.id, 0) <= SMALL_TABLE else ""


def _referred(machine: Machine, lines: Iterable[Line], procedures: set[str]) -> dict[str, str]:
    """Section -> the first step of the job that refers to it, as people call the step."""
    steps = {line.step for line in lines}
    found: dict[str, str] = {}
    for procedure in machine.procedures:
        if procedure.id not in procedures:
            continue
        for by, references in _references(procedure, steps):
            for reference in references:
                for to in reference.to:
                    found.setdefault(to, by)
    return found


def _references(procedure: Procedure, steps: set[str]) -> Iterator[tuple[str, tuple]]:  # type: ignore[type-arg]
    yield procedure.number or procedure.title, (*procedure.before, *procedure.after)
    for step in procedure.steps:
        if step.id in steps:
            yield _called(procedure, step), step.references


def _called(procedure: Procedure, step: Step) -> str:
    return f"{procedure.number or procedure.title} step {step.mark}" if step.mark else procedure.number


def _names(plan: Plan, back: Back | None) -> dict[tuple[str, ...], str]:
    """Words of each part that comes off and is no fastener -> its name."""
    removed = back.removed if back else ()
    found = {words_of(one.part): one.part for one in removed if not one.fastener}
    return {words: name for words, name in found.items() if words}


def _named(limit: Limit, names: Mapping[tuple[str, ...], str]) -> str:
    words = words_of(limit.what)
    fits = [name for part, name in names.items() if _in_a_row(part, words)]
    return f"names the {max(fits, key=len)}, which comes off" if fits else ""


def _in_a_row(part: tuple[str, ...], words: tuple[str, ...]) -> bool:
    size = len(part)
    return any(words[at : at + size] == part for at in range(len(words) - size + 1))


def sections_of(machine: Machine) -> dict[str, Section]:
    """The section that each limit of a table stands in: the last heading before it."""
    heads: dict[str, list[tuple[tuple[float, float], Section]]] = {}
    for section in machine.sections:
        for citation in section.citations[:1]:
            if (at := _at(citation.place)) is not None:
                heads.setdefault(citation.source, []).append((at, section))
    for some in heads.values():
        some.sort(key=lambda pair: pair[0])
    by_file = {
        (citation.source, citation.place.file): section
        for section in machine.sections
        for citation in section.citations[:1]
        if isinstance(citation.place, XmlPlace)
    }
    found: dict[str, Section] = {}
    for limit in machine.limits:
        for citation in limit.citations[:1]:
            place = _at(citation.place)
            some = heads.get(citation.source, [])
            if isinstance(citation.place, XmlPlace):
                own = by_file.get((citation.source, citation.place.file))
            else:
                before = bisect_right([at for at, _ in some], place) if place is not None else 0
                own = some[before - 1][1] if before else None
            if own is not None:
                found[limit.id] = own
    return found


def _at(place: object) -> tuple[float, float] | None:
    """Where on the way through a source a place stands: page and height, or line."""
    if isinstance(place, TextPlace):
        return (0.0, float(place.line))
    if isinstance(place, PdfPlace):
        return (float(place.pdf_page), place.box[1] if place.box else 0.0)
    return None
