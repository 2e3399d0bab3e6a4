"""What can be wrong with a PDF source, as problems for people."""

from collections.abc import Iterable
from pathlib import Path
from typing import Literal

from lastbolt.words.citation import Citation, PdfPlace
from lastbolt.words.problem import Problem, Refusal

_AGAIN = "Get the file again from where it came; if it stays so, print it to a new PDF."


def missing(path: Path) -> Refusal:
    """No such file."""
    do = f"Check the name and the folder; you are in {Path.cwd()}."
    return _stop("LB-F01", "There is no such file.", path, do)


def not_a_file(path: Path) -> Refusal:
    """A folder or a device was named."""
    return _stop("LB-F02", "This is not a file.", path, "Name the file itself, not the folder it is in.")


def not_readable(path: Path, why: str) -> Refusal:
    """The system does not let us read it."""
    return _stop("LB-F03", f"The file cannot be read: {why}.", path, "Check who may read the file.")


def empty(path: Path) -> Refusal:
    """Nothing in it."""
    return _stop("LB-F04", "The file is empty (0 bytes).", path, "Get the file again from where it came.")


def not_a_pdf(path: Path) -> Refusal:
    """It has no PDF header."""
    what = "The file is not a PDF: it does not begin as one."
    do = "Give a PDF (a picture must first be made into one), or a table, XML or text by its usual ending."
    return _stop("LB-F05", what, path, do)


def locked(path: Path) -> Refusal:
    """It needs a password."""
    do = "Ask its owner for a copy without a password; lastbolt does not open locked files."
    return _stop("LB-F06", "The PDF is locked with a password (encrypted).", path, do)


def damaged(path: Path) -> Refusal:
    """It cannot be opened although it begins as a PDF."""
    what = "The PDF is damaged or cut off: its list of pages cannot be found."
    return _stop("LB-F07", what, path, _AGAIN)


def cannot_open(path: Path, why: Literal["crashed", "timed out"]) -> Refusal:
    """The worker died while opening it."""
    how = "ended the reader" if why == "crashed" else "took longer than the time allowed"
    return _stop("LB-F08", f"Opening the PDF {how}.", path, _AGAIN)


def partly_damaged(path: Path, damage: str) -> Problem:
    """It could be read, but it is not whole."""
    what = f"The PDF is damaged: {damage}. What could be read was kept; some text may be missing."
    return Problem("LB-F09", what, str(path), _AGAIN)


def page_lost(path: Path, source: str, pdf_page: int, why: str) -> Problem:
    """One page could not be read; the others were."""
    what = f"This page could not be read ({why}); the other pages were kept."
    do = "Look at the page yourself: nothing on it was taken into account."
    return Problem("LB-F10", what, _at(path, pdf_page), do, citations=(_cite(source, pdf_page),))


def too_many_lost(path: Path, source: str, pages: Iterable[int]) -> Problem:
    """So many pages ended the reader, or were damaged, that the rest was given up."""
    numbers = sorted(pages)
    what = f"Too many pages of this PDF could not be read; {len(numbers)} further pages were given up."
    do = f"Look at PDF pages {ranges(numbers)} yourself, or print the file to a new PDF. "
    cites = tuple(_cite(source, number) for number in numbers[:50])
    return Problem("LB-F11", what, str(path), do.strip(), citations=cites)


def pictures_only(path: Path, source: str, pdf_pages: list[int]) -> Problem:
    """Pages that are a picture without text."""
    what = f"{_pictures(pdf_pages)} without text (a scan): nothing was read."
    do = "Install the reader of scans (pip install 'lastbolt[scan]') and read the file again, or give a copy"
    do += " with text; until then look at these pages yourself."
    return Problem("LB-F12", what, _on(path, pdf_pages), do, citations=_cited(source, pdf_pages))


def scan_given_up(path: Path, source: str, pdf_pages: list[int]) -> Problem:
    """Pages that are a picture on which the reader of scans failed, or took too long."""
    what = f"{_pictures(pdf_pages)} without text, and the reader of scans gave up on it: nothing was read."
    do = "Look at these pages yourself, or give a copy with text."
    return Problem("LB-F12", what, _on(path, pdf_pages), do, citations=_cited(source, pdf_pages))


def no_letters(path: Path, source: str, pdf_pages: list[int]) -> Problem:
    """Pages that are a picture in which the reader of scans found no letter."""
    what = f"{_pictures(pdf_pages)} in which no letter was found."
    do = "Look at these pages yourself: nothing on them was taken into account."
    return Problem("LB-F12", what, _on(path, pdf_pages), do, citations=_cited(source, pdf_pages))


def read_by_letters(path: Path, source: str, pdf_pages: list[int]) -> Problem:
    """Pages that were read from their picture."""
    one = len(pdf_pages) == 1
    many = "1 page was" if one else f"{len(pdf_pages)} pages were"
    what = f"{many} read from a picture (a scan), by one reader: letters and numbers may be wrong."
    do = "Compare sizes, counts, torques and references with the page before you rely on them."
    return Problem("LB-F14", what, _on(path, pdf_pages), do, citations=_cited(source, pdf_pages))


def unsure_numbers(path: Path, source: str, pdf_page: int, words: list[str]) -> Problem:
    """Words with figures in them that the reader of a scan doubts."""
    shown = ", ".join(f'"{word}"' for word in words[:12]) + (" ..." if len(words) > 12 else "")
    what = f"Read unsurely from the picture: {shown}."
    do = "Look at them on the page; a wrong figure in a reference, size or torque is not noticed by itself."
    return Problem("LB-F15", what, _at(path, pdf_page), do, citations=(_cite(source, pdf_page),))


def unmapped(path: Path, source: str, pdf_pages: dict[int, int]) -> Problem:
    """Characters that the file does not say the meaning of."""
    count = sum(pdf_pages.values())
    what = f"{count} characters have no meaning in the file (shown as \ufffd): numbers may be missing."
    do = "Compare the words with the page; a copy printed to a new PDF may be readable."
    pages = sorted(pdf_pages)
    return Problem("LB-F13", what, _on(path, pages), do, citations=_cited(source, pages))


def ranges(numbers: list[int]) -> str:
    """Sorted numbers in short: "1-3, 7"."""
    parts: list[list[int]] = []
    for number in numbers:
        if parts and number == parts[-1][1] + 1:
            parts[-1][1] = number
        else:
            parts.append([number, number])
    return ", ".join(f"{a}" if a == b else f"{a}-{b}" for a, b in parts)


def _stop(code: str, what: str, path: Path, do: str) -> Refusal:
    return Refusal(Problem(code, what, str(path), do, "stop"))


def _pictures(pdf_pages: list[int]) -> str:
    return "1 page is a picture" if len(pdf_pages) == 1 else f"{len(pdf_pages)} pages are pictures"


def _at(path: Path, pdf_page: int) -> str:
    return f"{path}, PDF page {pdf_page}"


def _on(path: Path, pdf_pages: list[int]) -> str:
    return f"{path}, PDF page{'' if len(pdf_pages) == 1 else 's'} {ranges(pdf_pages)}"


def _cited(source: str, pdf_pages: list[int]) -> tuple[Citation, ...]:
    return tuple(_cite(source, number) for number in pdf_pages[:50])


def _cite(source: str, pdf_page: int) -> Citation:
    return Citation(source, PdfPlace(pdf_page))
