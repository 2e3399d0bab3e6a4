"""What keeps the goal's own sections open: points of the plan and unread pages, asked for like holders.

What such a point hides may be one more fastener or one more part across the joint. Points of other sections
keep the plan from being complete; they are told with the plan.
"""

from collections.abc import Iterator

from lastbolt.app.gather_documents import Documents
from lastbolt.app.gather_job import Heard
from lastbolt.words.answer import HolderState
from lastbolt.words.citation import Citation, PdfPlace
from lastbolt.words.machine import Machine, Procedure
from lastbolt.words.plan import Open

SHORT = 8
"""Words of a point that name it."""


def asked_of_plan(documents: Documents, heard: Heard) -> tuple[HolderState, ...]:
    """One open holder for each open point and each unread page of the goal's own sections."""
    if documents.machine is None:
        return ()
    own = [procedure for procedure in documents.machine.procedures if procedure.id in documents.goals]
    subjects = tuple(subject for procedure in own for subject in _subjects(procedure))
    found = [_of_point(point, heard) for point in documents.plan_open if _within(point.subject, subjects)]
    return (*found, *_of_pages(documents.machine, own, heard))


def _subjects(procedure: Procedure) -> Iterator[str]:
    yield procedure.id
    yield from (reference.id for reference in (*procedure.before, *procedure.after))
    for step in procedure.steps:
        yield step.id
        yield from (reference.id for reference in step.references)


def _within(subject: str, subjects: tuple[str, ...]) -> bool:
    """Whether a point is about one of these; what planning makes of a step has an id that begins with it."""
    return any(subject == one or subject.startswith((f"{one}/", f"{one}#", f"{one}@")) for one in subjects)


def _of_point(point: Open, heard: Heard) -> HolderState:
    told = point.words.split()
    name = " ".join(told[:SHORT]).rstrip(",.;:") + (" ..." if len(told) > SHORT else "")
    identity = f"plan/{point.subject}"
    return _state(identity, f"open point, {name}", f"{point.words} {point.do}", point.citations, heard)


def _of_pages(machine: Machine, own: list[Procedure], heard: Heard) -> Iterator[HolderState]:
    titles = {source.id: source.title for source in machine.sources}
    spans: dict[str, list[int]] = {}
    for procedure in own:
        for citation in (*procedure.citations, *(c for step in procedure.steps for c in step.citations)):
            if isinstance(citation.place, PdfPlace):
                spans.setdefault(citation.source, []).append(citation.place.pdf_page)
    for page in machine.pages:
        span = spans.get(page.source)
        if page.state == "unexplained" and span and min(span) <= page.pdf_page <= max(span):
            title = titles.get(page.source, page.source)
            name = f"page {page.pdf_page} of {title}"
            words = "It lies within the section and was not read whole: does it speak of one more fastener?"
            yield _state(f"page/{page.source}/{page.pdf_page}", name, words, (), heard)


def _state(
    identity: str, name: str, words: str, citations: tuple[Citation, ...], heard: Heard
) -> HolderState:
    how = heard.settling(identity)
    return HolderState(identity, "other", name, bool(how), how or words, citations)
