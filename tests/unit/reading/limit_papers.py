"""Small papers with limits, set with Typst, read as a whole."""

from pathlib import Path

import typst

from lastbolt.app.read_sources import Paged, SourceFile, read_sources
from lastbolt.edge.pdf_in import PdfSettings, read_pages
from lastbolt.words.machine import Machine

PAGE = """
#set page(width: 148mm, height: 210mm, margin: 14mm)
#set text(size: 9pt, font: "New Computer Modern")
"""


def read_paper(text: str, folder: Path) -> Machine:
    """The model of a paper set from Typst text."""
    written, target = folder / "paper.typ", folder / "paper.pdf"
    written.write_text(PAGE + text, encoding="utf-8")
    typst.compile(str(written), output=str(target))
    pages = read_pages(target, PdfSettings(source="paper"))
    return read_sources([Paged(SourceFile(target.name), pages)]).machine


def table(columns: int, cells: str, *, ruled: bool, title: str = "Wear limits") -> str:
    """A page with one table under a heading; the columns are of one width."""
    stroke = "0.5pt" if ruled else "none"
    width = 118 // columns
    return (
        f"= 1 Data\n== 1.1 {title}\n"
        f"#table(columns: ({f'{width}mm, ' * columns}), stroke: {stroke}, inset: 2.5pt, {cells})\n"
    )
