"""A model read from texts without pages: places by file and line, links between its parts as references."""

from bisect import bisect_right
from collections.abc import Iterable, Mapping, Sequence
from typing import Any, NamedTuple

import msgspec
from msgspec import Struct
from msgspec.structs import replace

from lastbolt.app.links_settled import MOST_LINES, Settling, said_in
from lastbolt.reading.text_pages import Part
from lastbolt.words.citation import Citation, PdfPlace, TextPlace
from lastbolt.words.machine import Machine, PageSeen, Procedure, Reference, ReferenceStatus, Step
from lastbolt.words.problem import Problem
from lastbolt.words.where import where
from lastbolt.words.written import Link, Writing


class Text(NamedTuple):
    """One text: its name, its pages, and what it links to."""

    file: str
    parts: tuple[Part, ...]
    writing: Writing


def with_text_places(machine: Machine, texts: Mapping[str, Text]) -> Machine:
    """The model with every place in a text by its line, and with what its links lead to."""
    if not texts:
        return machine
    titles = {source.id: source.title for source in machine.sources}
    machine = _placed(machine, texts)
    pages = tuple(_page(page, texts) for page in machine.pages)
    problems = tuple(_problem(problem, titles) for problem in machine.problems)
    machine = replace(machine, pages=pages, problems=problems)
    return _linked(machine, texts, titles)


def _placed(value: Any, texts: Mapping[str, Text]) -> Any:
    if isinstance(value, Citation):
        return _citation(value, texts)
    if isinstance(value, Struct):
        new = {name: _placed(getattr(value, name), texts) for name in value.__struct_fields__}
        same = all(new[name] is getattr(value, name) for name in new)
        return value if same else msgspec.structs.replace(value, **new)
    if isinstance(value, tuple):
        items = tuple(_placed(item, texts) for item in value)
        return value if all(a is b for a, b in zip(items, value, strict=True)) else items
    return value


def _citation(citation: Citation, texts: Mapping[str, Text]) -> Citation:
    text, place = texts.get(citation.source), citation.place
    if text is None or not isinstance(place, PdfPlace) or not 0 < place.pdf_page <= len(text.parts):
        return citation
    spot = text.parts[place.pdf_page - 1].at(place.box[1] if place.box else 0.0)
    return replace(citation, place=TextPlace(place.pdf_page, line=spot.line, under=spot.under))


def _page(page: PageSeen, texts: Mapping[str, Text]) -> PageSeen:
    text = texts.get(page.source)
    if text is None or not 0 < page.pdf_page <= len(text.parts):
        return page
    part = text.parts[page.pdf_page - 1]
    line = part.spots[0].line if part.spots else 1
    return replace(page, printed_page=None, part=f"{part.title or 'the text'}, from line {line}")


def _problem(problem: Problem, titles: Mapping[str, str]) -> Problem:
    if not problem.citations or not isinstance(problem.citations[0].place, TextPlace):
        return problem
    first = problem.citations[0]
    return replace(problem, where=where(first, titles.get(first.source, first.source)))


class _Led(NamedTuple):
    """A link, where it leads, and how sure that is."""

    link: Link
    to: str
    status: ReferenceStatus


class _Target(NamedTuple):
    """What a link can lead to: a procedure or section, and the line it begins on."""

    line: int
    id: str
    number: str
    title: str


def _linked(machine: Machine, texts: Mapping[str, Text], titles: Mapping[str, str]) -> Machine:
    """The model with the links of steps and set-up blocks as references; one that leads nowhere is told."""
    targets = {source: _targets(machine, source) for source in texts}
    by_file = {text.file.casefold(): source for source, text in texts.items()}
    found: dict[str, list[_Led]] = {}
    lost: list[Problem] = []
    for source, text in texts.items():
        spots = _steps_by_line(machine, source)
        for link in text.writing.links:
            if link.alone or "://" in link.target or link.target.startswith("mailto:"):
                continue
            owner = _set_up(machine, source, link) or _holding(spots, link.line)
            if owner is None:
                continue
            led = _Led(link, *_led(link, source, texts, by_file, targets))
            found.setdefault(owner.id, []).append(led)
            if led.status == "dangling":
                lost.append(_nowhere(link, owner, titles[source]))
    if not found:
        return machine
    settled = Settling(machine.problems)
    procedures = tuple(_procedure(p, found, settled) for p in machine.procedures)
    kept = tuple(problem for problem in machine.problems if problem not in settled.answered)
    return replace(machine, procedures=procedures, problems=(*kept, *lost))


def _set_up(machine: Machine, source: str, link: Link) -> Procedure | None:
    """The procedure whose set-up block or follow-on says the words of the link."""
    for procedure in machine.procedures:
        for reference in (*procedure.before, *procedure.after):
            place = reference.citations[0].place if reference.citations else None
            near = isinstance(place, TextPlace) and place.line <= link.line <= place.line + MOST_LINES
            if near and reference.citations[0].source == source and said_in(link.words, reference.words):
                return procedure
    return None


def _procedure(procedure: Procedure, found: Mapping[str, Sequence[_Led]], settled: Settling) -> Procedure:
    mine = [one for one in found.get(procedure.id, ()) if one.status == "resolved"]

    def with_links(references: Iterable[Reference]) -> tuple[Reference, ...]:
        made = []
        for reference in references:
            led = next((one for one in mine if settled.by(one.link, one.to, reference)), None)
            made.append(
                replace(reference, status="resolved", to=(led.to,), any_of=False) if led else reference
            )
        return tuple(made)

    steps = tuple(_step(step, found.get(step.id, ()), settled) for step in procedure.steps)
    return replace(
        procedure, before=with_links(procedure.before), after=with_links(procedure.after), steps=steps
    )


def _targets(machine: Machine, source: str) -> list[_Target]:
    procedures = {p.id.replace("/procedure/", "/section/"): p.id for p in machine.procedures}
    found = []
    for section in machine.sections:
        cite = section.citations[0] if section.citations else None
        if cite is not None and cite.source == source and isinstance(cite.place, TextPlace):
            to = procedures.get(section.id, section.id)
            found.append(_Target(cite.place.line, to, section.number, section.title))
    return sorted(found)


def _steps_by_line(machine: Machine, source: str) -> list[tuple[int, Step]]:
    """Every step by the line it begins on, and every heading as the end of what stands before it."""
    found: list[tuple[int, int, Step]] = []
    for number, step in enumerate(step for p in machine.procedures for step in p.steps):
        for citation in step.citations[:1]:
            if citation.source == source and isinstance(citation.place, TextPlace):
                found.append((citation.place.line, number, step))
    return [(line, step) for line, _, step in sorted(found, key=lambda one: one[:2])]


def _holding(spots: Sequence[tuple[int, Step]], line: int) -> Step | None:
    index = bisect_right([at for at, _ in spots], line) - 1
    return spots[index][1] if index >= 0 else None


def _key(name: str) -> str:
    return "".join(sign for sign in name.casefold() if sign.isalnum())


def _led(
    link: Link,
    source: str,
    texts: Mapping[str, Text],
    by_file: Mapping[str, str],
    targets: Mapping[str, Sequence[_Target]],
) -> tuple[str, ReferenceStatus]:
    """Where a link leads: the id of a procedure or section, and how sure that is."""
    file, _, anchor = link.target.partition("#")
    name = file.replace("\\", "/").rpartition("/")[2].casefold()
    there = source if not name else by_file.get(name)
    if there is None:
        return "", "other book"
    if not anchor:
        return (targets[there][0].id, "resolved") if targets[there] else ("", "dangling")
    line = next((at for said, at in texts[there].writing.anchors if said == anchor), None)
    if line is None:
        return _by_heading(_key(anchor), targets[there])
    after = [one for one in targets[there] if line <= one.line <= line + 2]
    before = [one for one in targets[there] if one.line <= line]
    best = after[:1] or before[-1:]
    return (best[0].id, "resolved") if best else ("", "dangling")


def _by_heading(key: str, targets: Iterable[_Target]) -> tuple[str, ReferenceStatus]:
    """The heading that an anchor is made of, as most programs make them: its words without signs; the second
    of one name has a number behind it."""
    seen: dict[str, int] = {}
    for target in targets:
        for words in (f"{target.number} {target.title}", target.title):
            bare = _key(words)
            count = seen.get(f"{bare}/{target.line}", seen.get(bare, 0))
            if key == (bare if not count else f"{bare}{count}"):
                return target.id, "resolved"
        bare = _key(target.title)
        seen[bare] = seen.get(bare, 0) + 1
    return "", "dangling"


def _nowhere(link: Link, step: Step | Procedure, title: str) -> Problem:
    what = f'The link "{link.words}" leads to {link.target}, which is not in the text.'
    do = "Find the place it means and say so, or set it aside as looked at and not needed here."
    at = step.citations[:1]
    place = where(replace(at[0], place=TextPlace(1, line=link.line)), title)
    return Problem("LB-R01", what, place, do, citations=at)


def _step(step: Step, links: Iterable[_Led], settled: Settling) -> Step:
    """The step with its links: in place of words that nobody could follow, else beside what it refers to."""
    references = list(step.references)
    for link, to, status in links:
        if status == "resolved" and any(one.status == "resolved" and to in one.to for one in references):
            continue
        if status == "resolved":
            place = next((n for n, one in enumerate(references) if settled.by(link, to, one)), None)
            if place is not None:
                references[place] = replace(references[place], status=status, to=(to,), any_of=False)
                continue
        identity = f"{step.id}/link/{link.line}-{len(references)}"
        references.append(
            Reference(identity, link.words, "see", status, (to,) if to else (), citations=step.citations)
        )
    return replace(step, references=tuple(references))
