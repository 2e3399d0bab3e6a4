"""What keeps a plan from being complete, each with what settles it; and the problems planning finds."""

from collections.abc import Iterable, Iterator

from lastbolt.planning.book import Book
from lastbolt.planning.closure import Closure
from lastbolt.planning.state import Done
from lastbolt.words.citation import Citation, PdfPlace
from lastbolt.words.machine import PageSeen, Reference
from lastbolt.words.plan import LeftOut, Line, Open
from lastbolt.words.problem import Problem

ASIDE = "or set it aside by name and reason if it does not apply here."


def open_points(closure: Closure, book: Book, done: Done) -> tuple[Open, ...]:
    """Everything unresolved, unexplained or unanswered, in the order of the plan."""
    found: list[Open] = []
    for reference, procedure in closure.references:
        if reference.id in done.aside or done.answers.get(reference.id) or reference.role == "reverse of":
            continue
        if book.applies(reference.applies) == "no":
            continue
        found += _of_reference(reference, book, procedure)
    for line, asking in closure.questions:
        kind = "variant" if asking and _by_variant(asking, book) else "question"
        do = "Answer it (yes, no, or which) in the job, " + ASIDE
        words = f"{line.number}: {line.question} {line.words}"
        found.append(Open(kind, words, do, line.id, line.choices, citations=line.citations))  # type: ignore[arg-type]
    found += _variants(closure.lines, book)
    found += [_cycle(members, book) for members in closure.cycles]
    return tuple(found) + tuple(_pages(book.machine.pages, book))


def _by_variant(reference: Reference, book: Book) -> bool:
    needs = book.needs(reference)
    return any(book.applies(book.procedures[need.procedure].applies) == "unknown" for need in needs)


def _of_reference(reference: Reference, book: Book, procedure: str) -> Iterator[Open]:
    where = book.procedures[procedure].number
    said = f'{where} says "{reference.words}"'
    do = "Look it up in the source and say which section is meant, " + ASIDE
    choices = reference.to
    if reference.status == "dangling":
        yield Open(
            "reference",
            f"{said}, and there is no such place.",
            do,
            reference.id,
            citations=reference.citations,
        )
    elif reference.status == "self":
        yield Open("reference", f"{said}, which is itself.", do, reference.id, citations=reference.citations)
    elif reference.status == "other book":
        words = f"{said}: that is another book, which was not read."
        yield Open(
            "reference", words, "Read that book too, " + ASIDE, reference.id, citations=reference.citations
        )
    elif reference.status == "ambiguous":
        words = f"{said}, which can mean {_names(choices, book)}."
        yield Open("ambiguous", words, do, reference.id, choices, citations=reference.citations)
    elif reference.status == "doubtful":
        words = f"{said}; it was taken as {_names(choices, book)}, with doubt."
        yield Open(
            "reference",
            words,
            "Confirm it at the page, " + ASIDE,
            reference.id,
            choices,
            (),
            reference.citations,
        )
    elif reference.role == "before" and reference.status == "resolved" and not book.needs(reference):
        words = f"{said}, which holds no steps."
        yield Open("reference", words, do, reference.id, choices, (), reference.citations)


def _names(ids: Iterable[str], book: Book) -> str:
    said = []
    for one in ids:
        procedure = book.procedures.get(one)
        said.append(f"{procedure.number} {procedure.title}" if procedure else one.rpartition("/")[2])
    return " or ".join(said) or "nothing"


def _variants(lines: Iterable[Line], book: Book) -> Iterator[Open]:
    for line in lines:
        if line.kind == "opening" and line.only_if:
            words = f"{line.number} {line.words} is only for {line.only_if}; is this engine one of them?"
            do = "Give the engine's variant and serial number in its file."
            yield Open("variant", words, do, line.procedure, citations=line.citations)


def _cycle(members: tuple[str, ...], book: Book) -> Open:
    names = [book.procedures[one].number or book.procedures[one].title for one in members]
    cited: list[Citation] = [c for one in dict.fromkeys(members) for c in book.procedures[one].citations[:1]]
    words = f"Sections need each other: {' needs '.join(names)}."
    do = "Decide with the pages which comes first; the plan takes the one met first as the outer one."
    return Open("cycle", words, do, members[0], (), members[:-1], tuple(cited))


def _pages(pages: Iterable[PageSeen], book: Book) -> Iterator[Open]:
    titles = {source.id: source.title or source.id for source in book.machine.sources}
    for page in pages:
        if page.state == "unexplained":
            printed = f"page {page.printed_page}, " if page.printed_page else ""
            words = (
                f"{titles.get(page.source, page.source)}, {printed}PDF page {page.pdf_page} is not explained"
            )
            place = PdfPlace(page.pdf_page, page.printed_page)
            yield Open(
                "page",
                f"{words}{': ' + page.why if page.why else ''}.",
                "Look at the page; nothing on it is in this plan.",
                f"{page.source}/page/{page.pdf_page}", citations=(Citation(page.source, place),),
            )  # fmt: skip


def problems_of(opens: Iterable[Open]) -> tuple[Problem, ...]:
    """The circles, as problems of the sources: everything else is the reader's to report."""
    return tuple(
        Problem("LB-L01", item.words, _where(item.citations), item.do, "doubt", item.citations)
        for item in opens
        if item.kind == "cycle"
    )


def _where(citations: Iterable[Citation]) -> str:
    said = []
    for citation in citations:
        if isinstance(citation.place, PdfPlace):
            printed = f"page {citation.place.printed_page}, " if citation.place.printed_page else ""
            said.append(f"{citation.source}, {printed}PDF page {citation.place.pdf_page}")
        else:
            said.append(citation.source)
    return "; ".join(said)


def set_aside(closure: Closure, done: Done) -> tuple[LeftOut, ...]:
    """What was left out on purpose: other variants, and what a person set aside with a reason."""
    aside = []
    for reference, _ in closure.references:
        event = done.aside.get(reference.id)
        if event:
            aside.append(
                LeftOut(reference.id, reference.words, event.reason, event.by, event.id, reference.citations)
            )
    return (*closure.left_out, *aside)
