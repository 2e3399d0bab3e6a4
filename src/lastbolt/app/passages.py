"""Sources as opened by an edge, as passages to search; and what the model alone has of a source."""

from collections.abc import Iterable, Iterator

from lastbolt.searching.index import Passage
from lastbolt.words.citation import CellPlace, Citation, PdfPlace, TextPlace, XmlPlace
from lastbolt.words.machine import Machine
from lastbolt.words.page import PageLayout, Word
from lastbolt.words.sheet import Sheet
from lastbolt.words.tree import Element, Publication
from lastbolt.words.written import Writing


def of_pages(source: str, pages: Iterable[PageLayout], printed: dict[int, str | None]) -> Iterator[Passage]:
    """One passage for each page, in the order of the file; words set sideways and typed notes with it."""
    for page in pages:
        words: list[Word] = [*page.words, *(word for turned in page.turned for word in turned.words)]
        said = [word.text for word in words]
        boxes = [(word.left, word.top, word.right, word.bottom) for word in words]
        for note in page.notes:
            for text in note.words.split():
                said.append(text)
                boxes.append(note.box)
        place = PdfPlace(page.pdf_page, printed.get(page.pdf_page))
        yield Passage(source, place, tuple(said), tuple(boxes))


def of_sheet(source: str, sheet: Sheet) -> Iterator[Passage]:
    """One passage for each row."""
    for row in sheet.rows:
        words = " ".join(cell for cell in row.cells if cell).split()
        if words:
            yield Passage(source, CellPlace(row.line), tuple(words))


def of_text(source: str, writing: Writing) -> Iterator[Passage]:
    """One passage for each block, of a table one for each row."""
    under = ""
    for block in writing.blocks:
        rows = [
            (line, " ".join(run.text for cell in row for run in cell))
            for line, row in zip(block.lines, block.rows, strict=False)
        ]
        if block.sort == "heading":
            under = block.text
        mark = f"{block.mark} " if block.mark else ""
        for line, text in rows or [(block.line, f"{mark}{block.text}")]:
            if words := tuple(text.split()):
                yield Passage(source, TextPlace(1, line=line, under=under), words)


def of_publication(source: str, publication: Publication) -> Iterator[Passage]:
    """One passage for each element with words of its own; what stands inside it goes with it."""
    for module in publication.modules:
        waiting = [module.root]
        while waiting:
            element = waiting.pop()
            if any(isinstance(part, str) and part.strip() for part in element.content):
                place = XmlPlace(element.path, element.file, element.line)
                yield Passage(source, place, tuple(element.words().split()))
            else:
                waiting += [part for part in element.content[::-1] if isinstance(part, Element)]


def of_model(machine: Machine, source: str) -> Iterator[Passage]:
    """What the model has of a source whose file is not at hand: the words of its citations, each once."""
    seen: set[Citation] = set()
    for citation in _citations(machine):
        if citation.source == source and citation.words and citation not in seen:
            seen.add(citation)
            words = tuple(citation.words.split())
            box = citation.place.box if isinstance(citation.place, PdfPlace) else None
            yield Passage(source, citation.place, words, (box,) * len(words) if box else ())


def _citations(machine: Machine) -> Iterator[Citation]:
    for section in machine.sections:
        yield from section.citations
    for procedure in machine.procedures:
        yield from procedure.citations
        for reference in (*procedure.before, *procedure.after):
            yield from reference.citations
        for caution in procedure.cautions:
            yield from caution.citations
        for step in procedure.steps:
            yield from step.citations
            for caution in step.cautions:
                yield from caution.citations
    for figure in machine.figures:
        for line in figure.legend_lines:
            yield from line.citations
    for things in (machine.rows, machine.torques, machine.bolt_rows, machine.limits):
        for thing in things:
            yield from thing.citations
