"""Pages that could not be read at all: the model has them as not explained, so that nothing that may go on
there is called complete or read to its end."""

from collections.abc import Iterable, Iterator, Mapping

from msgspec.structs import replace

from lastbolt.words.citation import PdfPlace
from lastbolt.words.machine import Machine, PageSeen
from lastbolt.words.page import PageLayout
from lastbolt.words.problem import Problem

LOST = ("LB-F10", "LB-F11")
WHY = "it could not be read"


def noting_lost(pages: Iterable[PageLayout | Problem], lost: list[int]) -> Iterator[PageLayout | Problem]:
    """The pages as they come; the numbers of those that are lost are added to `lost`."""
    for page in pages:
        if isinstance(page, Problem) and page.code in LOST:
            places = (citation.place for citation in page.citations)
            lost += [place.pdf_page for place in places if isinstance(place, PdfPlace)]
        yield page


def with_lost(machine: Machine, lost: Mapping[str, Iterable[int]]) -> Machine:
    """The model with a page not explained for each that was lost, by source id, in the order of the book."""
    known = {(page.source, page.pdf_page) for page in machine.pages}
    found = [
        PageSeen(source, number, None, "unexplained", why=WHY)
        for source, numbers in lost.items()
        for number in numbers
        if (source, number) not in known
    ]
    if not found:
        return machine
    order = {source.id: place for place, source in enumerate(machine.sources)}
    pages = sorted((*machine.pages, *found), key=lambda page: (order[page.source], page.pdf_page))
    return replace(machine, pages=tuple(pages))
