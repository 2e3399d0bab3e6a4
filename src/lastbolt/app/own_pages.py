"""Which pages a section lies on, as far as its heading and its steps say."""

from collections.abc import Iterable, Iterator

from lastbolt.words.citation import Citation, PdfPlace
from lastbolt.words.machine import Machine, Procedure, TableRow
from lastbolt.words.supplies import Tool

Spans = dict[str, tuple[int, int]]
"""By source: the first and the last page, in the order of the file."""


def spans_of(procedures: Iterable[Procedure]) -> Spans:
    """The pages of sections; what stands between two of their steps is taken for theirs too."""
    pages: dict[str, list[int]] = {}
    for procedure in procedures:
        for citation in (*procedure.citations, *(c for step in procedure.steps for c in step.citations)):
            if isinstance(citation.place, PdfPlace):
                pages.setdefault(citation.source, []).append(citation.place.pdf_page)
    return {source: (min(some), max(some)) for source, some in pages.items()}


def on_them(source: str, page: int, spans: Spans) -> bool:
    """Whether a page is one of them."""
    first, last = spans.get(source, (0, -1))
    return first <= page <= last


def cited_there(citations: Iterable[Citation], spans: Spans) -> bool:
    """Whether one of the citations stands on them."""
    return any(
        isinstance(one.place, PdfPlace) and on_them(one.source, one.place.pdf_page, spans)
        for one in citations
    )


def fastener_rows(machine: Machine, spans: Spans) -> Iterator[TableRow]:
    """Lines of tables of fasteners on these pages."""
    return (row for row in machine.bolt_rows if cited_there(row.citations, spans))


def tools_there(machine: Machine, spans: Spans) -> Iterator[Tool]:
    """Lines of tables of tools on these pages: they may name what the tool is for."""
    return (tool for tool in machine.tools if cited_there(tool.citations, spans))
