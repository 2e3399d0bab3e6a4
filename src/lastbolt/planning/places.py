"""Citations as words: the source, the printed page, the page of the file."""

from collections.abc import Iterable

from lastbolt.words.citation import CellPlace, Citation, PdfPlace


def places(citations: Iterable[Citation]) -> str:
    """Where the citations stand, each place once: "manual, page 4-6, PDF page 18"."""
    said = []
    for citation in citations:
        place = citation.place
        if isinstance(place, PdfPlace):
            printed = f"page {place.printed_page}, " if place.printed_page else ""
            said.append(f"{citation.source}, {printed}PDF page {place.pdf_page}")
        elif isinstance(place, CellPlace):
            said.append(f"{citation.source}, line {place.line}")
    return "; ".join(dict.fromkeys(said))
