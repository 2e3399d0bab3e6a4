"""A model read from texts without pages: places by file and line, links between its parts as references."""

from bisect import bisect_right
from collections.abc import Iterable, Mapping, Sequence
from typing import Any, NamedTuple

import msgspec
from msgspec import Struct
from msgspec.structs import replace

from lastbolt.reading.text_pages import Part
from lastbolt.words.citation import Citation, PdfPlace, TextPlace
from lastbolt.words.machine import Machine, PageSeen, Reference, ReferenceStatus, Step
from lastbolt.words.problem import Problem
from lastbolt.words.where import where
from lastbolt.words.written import Link, Writing

_LOST = ("LB-R01", "LB-R02", "LB-R03", "LB-R17")
"""What is said of words that point somewhere when nobody knows where: a link knows."""


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


class _Target(NamedTuple):
    """What a link can lead to: a procedure or section, and the line it begins on."""

    line: int
    id: str
    number: str
    title: str


def _linked(machine: Machine, texts: Mapping[str, Text], titles: Mapping[str, str]) -> Machine:
    """The model with the links of each step as references; a link that leads nowhere is told."""
    targets = {source: _targets(machine, source) for source in texts}
    by_file = {text.file.casefold(): source for source, text in texts.items()}
    found: dict[str, list[tuple[Link, str, ReferenceStatus]]] = {}
    lost: list[Problem] = []
    for source, text in texts.items():
        spots = _steps_by_line(machine, source)
        for link in text.writing.links:
            step = _holding(spots, link.line)
            if link.alone or step is None or "://" in link.target or link.target.startswith("mailto:"):
                continue
            to, status = _led(link, source, texts, by_file, targets)
            found.setdefault(step.id, []).append((link, to, status))
            if status == "dangling":
                lost.append(_nowhere(link, step, titles[source]))
    if not found:
        return machine
    procedures = tuple(
        replace(p, steps=tuple(_step(step, found.get(step.id, ())) for step in p.steps))
        for p in machine.procedures
    )
    led = {(cite, link.words) for p in machine.procedures for s in p.steps for cite in s.citations
           for link, _, status in found.get(s.id, ()) if status == "resolved"}  # fmt: skip
    kept = tuple(problem for problem in machine.problems if not _answered(problem, led))
    return replace(machine, procedures=procedures, problems=(*kept, *lost))


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


def _nowhere(link: Link, step: Step, title: str) -> Problem:
    what = f'The link "{link.words}" leads to {link.target}, which is not in the text.'
    do = "Find the place it means and say so, or set it aside as looked at and not needed here."
    at = step.citations[:1]
    place = where(replace(at[0], place=TextPlace(1, line=link.line)), title)
    return Problem("LB-R01", what, place, do, citations=at)


def _step(step: Step, links: Iterable[tuple[Link, str, ReferenceStatus]]) -> Step:
    references = list(step.references)
    for link, to, status in links:
        words = link.words.casefold()
        same = next((n for n, one in enumerate(references) if _one(one.words.casefold(), words)), None)
        if same is not None and status != "resolved" and references[same].status in ("resolved", "self"):
            continue
        if same is not None:
            one = replace(references[same], status=status, to=(to,) if to else ())
            references[same] = one
        else:
            identity = f"{step.id}/link/{link.line}-{len(references)}"
            references.append(
                Reference(identity, link.words, "see", status, (to,) if to else (), citations=step.citations)
            )
    return replace(step, references=tuple(references))


def _one(said: str, link: str) -> bool:
    """Whether a reference's words and a link's are the same pointer."""
    return bool(link) and (link in said or said in link)


def _answered(problem: Problem, led: set[tuple[Citation, str]]) -> bool:
    """Whether a link answers what was said of words that point somewhere."""
    if problem.code not in _LOST:
        return False
    return any(
        cite in problem.citations and words.casefold() in problem.what.casefold() for cite, words in led
    )
