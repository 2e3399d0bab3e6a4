"""What keeps the goal's own sections open: points of the plan and unread pages, asked for like holders.

What such a point hides may be one more fastener or one more part across the joint. Points of other sections
keep the plan from being complete; they are told with the plan.
"""

from collections.abc import Iterator

from lastbolt.app.gather_documents import Documents
from lastbolt.app.gather_job import Heard
from lastbolt.app.own_pages import Spans, cited_there, on_them, spans_of
from lastbolt.planning.names import stems
from lastbolt.planning.pairs import parts_of
from lastbolt.words.answer import HolderState
from lastbolt.words.citation import Citation, PdfPlace, TextPlace
from lastbolt.words.machine import Machine, Procedure
from lastbolt.words.plan import Open


def asked_of_plan(documents: Documents, heard: Heard) -> tuple[HolderState, ...]:
    """One open holder for each open point and each unread page of the goal's own sections."""
    if documents.machine is None:
        return ()
    own = [procedure for procedure in documents.machine.procedures if procedure.id in documents.goals]
    subjects = tuple(subject for procedure in own for subject in _subjects(procedure))
    spans = spans_of(own)
    parts = {stem for one in own for part in parts_of(one) for stem in stems(part)}
    told = _told_by_page(documents.machine)
    found = [
        _of_point(point, _where(point.subject, own), heard)
        for point in documents.plan_open
        if _within(point.subject, subjects) or (point.kind == "page" and _concerns(point, spans, parts, told))
    ]
    return (*found, *_of_pages(documents.machine, spans, heard))


def _told_by_page(machine: Machine) -> dict[tuple[str, int], list[str]]:
    """What reading told of each page: the words that it did not understand stand in it."""
    found: dict[tuple[str, int], list[str]] = {}
    for problem in machine.problems:
        for one in problem.citations:
            if isinstance(one.place, PdfPlace):
                found.setdefault((one.source, one.place.pdf_page), []).append(problem.what)
    return found


def _concerns(point: Open, spans: Spans, parts: set[str], told: dict[tuple[str, int], list[str]]) -> bool:
    """Whether what was not understood stands on the sections' own pages, or names what they take apart."""
    pages = [(one.source, one.place.pdf_page) for one in point.citations if isinstance(one.place, PdfPlace)]
    beside = [words for page in pages for words in told.get(page, ())]
    said = " ".join((point.words, *beside, *(citation.words for citation in point.citations)))
    return cited_there(point.citations, spans) or bool(parts & set(stems(said.replace(",", " "))))


def _subjects(procedure: Procedure) -> Iterator[str]:
    yield procedure.id
    yield from (reference.id for reference in (*procedure.before, *procedure.after))
    for step in procedure.steps:
        yield step.id
        yield from (reference.id for reference in step.references)


def _within(subject: str, subjects: tuple[str, ...]) -> bool:
    """Whether a point is about one of these; what planning makes of a step has an id that begins with it."""
    return any(subject == one or subject.startswith((f"{one}/", f"{one}#", f"{one}@")) for one in subjects)


def _where(subject: str, own: list[Procedure]) -> str:
    """ "4.1 step 2": the step or section of these that a point is about."""
    steps = [(step.id, f"{one.number} step {step.mark}") for one in own for step in one.steps if step.mark]
    at = next((words for name, words in steps if _within(subject, (name,))), "")
    return at or ", ".join(one.number or one.title for one in own)


def _of_point(point: Open, where: str, heard: Heard) -> HolderState:
    identity = f"plan/{point.subject}"
    if point.kind == "page":
        identity = f"{identity}/{'/'.join(_at(citation) for citation in point.citations[:1])}"
    return _state(identity, f"open point of {where}", f"{point.words} {point.do}", point.citations, heard)


def _of_pages(machine: Machine, spans: Spans, heard: Heard) -> Iterator[HolderState]:
    titles = {source.id: source.title for source in machine.sources}
    for page in machine.pages:
        if page.state == "unexplained" and on_them(page.source, page.pdf_page, spans):
            title = titles.get(page.source, page.source)
            name = f"page {page.pdf_page} of {title}"
            words = "It lies within the section and was not read whole: does it speak of one more fastener?"
            yield _state(f"page/{page.source}/{page.pdf_page}", name, words, (), heard)


def _at(citation: Citation) -> str:
    place = citation.place
    line = place.line if isinstance(place, TextPlace) else 0
    return f"{place.pdf_page}-{line}" if isinstance(place, PdfPlace) else citation.source


def _state(
    identity: str, name: str, words: str, citations: tuple[Citation, ...], heard: Heard
) -> HolderState:
    how = heard.settling(identity)
    return HolderState(identity, "other", name, bool(how), how or words, citations, answer="read")
