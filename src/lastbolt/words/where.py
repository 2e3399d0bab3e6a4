"""Where a citation points, in words: one wording for terminal, report and problems."""

from collections.abc import Iterable, Mapping

from lastbolt.words.citation import CellPlace, Citation, ImagePlace, PdfPlace, SaidPlace, TextPlace, XmlPlace


def page_words(pdf_page: int, printed_page: str | None) -> str:
    """The page by both its numbers: the one that stands on it, and its count in the file.

    >>> page_words(31, "4-6"), page_words(2, None)
    ('printed page 4-6, PDF page 31', 'PDF page 2')
    """
    printed = f"printed page {printed_page}, " if printed_page else ""
    return f"{printed}PDF page {pdf_page}"


def where(citation: Citation, title: str = "", people: Mapping[str, str] | None = None) -> str:
    """The source and the place in it. `title`: what people call the source, if not by its id; `people`: what
    they call each other.

    >>> where(Citation("m", PdfPlace(31, "4-6")), "Service manual")
    'Service manual, printed page 4-6, PDF page 31'
    >>> where(Citation("m", XmlPlace("dmodule/content/procedure", "DMC-1.xml", 12)))
    'm, DMC-1.xml, line 12, procedure'
    >>> where(Citation("m", TextPlace(2, line=40, under="4.2 Pump")))
    'm, line 40, 4.2 Pump'
    """
    source = title or citation.title or citation.source
    match citation.place:
        case TextPlace():
            under = f", {citation.place.under}" if citation.place.under else ""
            return f"{source}, line {citation.place.line}{under}"
        case PdfPlace(pdf_page, printed_page):
            return f"{source}, {page_words(pdf_page, printed_page)}"
        case CellPlace(line):
            return f"{source}, line {line}"
        case XmlPlace(path, file, line):
            if not line:
                return f"{source}, {path}"
            module = f"{file}, " if file not in ("", source) else ""
            return f"{source}, {module}line {line}, {path.rpartition('/')[2]}"
        case ImagePlace():
            return f"{source}, in the picture"
        case SaidPlace(by, event):
            said = f"said by {(people or {}).get(by, by)}"
            return f"{source}, {event}" if source and event else said


def places(citations: Iterable[Citation]) -> str:
    """Where the citations stand, each place once."""
    return "; ".join(dict.fromkeys(where(citation) for citation in citations))
