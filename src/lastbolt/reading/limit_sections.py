"""The net under the rules for limits: sections called so of which nothing was read as a limit."""

from collections.abc import Iterable, Iterator, Sequence

from lastbolt.reading.drafts import Cite, SectionDraft
from lastbolt.reading.limit_facts import NOT_READ
from lastbolt.reading.limit_problems import Complaint
from lastbolt.reading.limit_words import limit_words, plain
from lastbolt.words.citation import PdfPlace
from lastbolt.words.measured import Limit


def unread_sections(
    sections: Iterable[SectionDraft], limits: Sequence[Limit], cite: Cite
) -> Iterator[Complaint]:
    """A complaint for each section such as "Wear limits" that holds figures and gave no limit.

    Sections with steps are left out: limits in steps are read from their words.
    """
    words = limit_words()
    pages = {
        place.pdf_page for limit in limits for c in limit.citations if isinstance(place := c.place, PdfPlace)
    }
    for section in sections:
        if section.children or any(item.kind == "step" for item in section.items):
            continue
        if not words.among(plain(section.title), "heads", "titles") or section.pages & pages:
            continue
        said = [piece.text for piece in section.tables] + [item.text for item in section.items]
        if any(c.isdigit() for text in said for c in text):
            why = f'nothing under the heading "{section.title}" was read as a limit'
            yield Complaint(NOT_READ, "", why, cite.of(section.heading)[0])
