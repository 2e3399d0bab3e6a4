"""Manuals that are text files: Markdown, HTML, plain text. Nothing they point at is opened or run."""

from collections.abc import Callable
from pathlib import Path
from typing import NamedTuple

from lastbolt.edge.pdf_in import check_file
from lastbolt.edge.plain_text import plain
from lastbolt.edge.table_in import decoded_text, read_table, stop
from lastbolt.reading.table_words import table_words
from lastbolt.reading.text_html import read_html
from lastbolt.reading.text_markdown import read_markdown
from lastbolt.reading.text_plain import read_plain
from lastbolt.words.problem import Problem, Refusal
from lastbolt.words.written import Writing

MOST_BYTES = 8 * 2**20
MOST_BLOCKS = 200_000


class Sort(NamedTuple):
    """How a text of one sort is read, and what it is called."""

    media_type: str
    read: Callable[[str], Writing]


MARKDOWN = Sort("text/markdown", read_markdown)
HTML = Sort("text/html", read_html)
PLAIN = Sort("text/plain", read_plain)
SORTS = {
    ".md": MARKDOWN,
    ".markdown": MARKDOWN,
    ".html": HTML,
    ".htm": HTML,
    ".xhtml": HTML,
    ".text": PLAIN,
    ".txt": PLAIN,
}


class WrittenRead(NamedTuple):
    """A text as read, its sort, and what is to be said about the file."""

    writing: Writing
    media_type: str
    problems: tuple[Problem, ...]


def read_written(path: Path) -> WrittenRead:
    """The text in the file.

    Raises:
        Refusal: no such file, nothing in it, no text, or far more than a manual has.
    """
    check_file(path)
    what = "The file is too large for a manual without pictures."
    do = "Give the manual alone, in several files where it is one of many chapters."
    if path.stat().st_size > MOST_BYTES:
        raise stop("LB-F44", what, path, do)
    text, _, problems = decoded_text(path.read_bytes(), path)
    sort = SORTS[path.suffix.lower()]
    writing = sort.read(plain(text, kept="\t\f"))
    if len(writing.blocks) > MOST_BLOCKS:
        raise stop("LB-F44", what, path, do)
    if not writing.blocks:
        what = "No word that people read stands in the file."
        raise stop("LB-F45", what, path, "Check that it is the manual and not the frame of a web page.")
    told = list(problems)
    if writing.pictures:
        count = "1 picture" if writing.pictures == 1 else f"{writing.pictures} pictures"
        what = f"The text shows {count}, which nobody read: what only they show is not in the model."
        told.append(Problem("LB-F46", what, str(path), "Look at them beside the steps.", "note"))
    return WrittenRead(writing, sort.media_type, tuple(told))


def is_table(path: Path) -> bool:
    """Whether a file named as plain text is a table of parts: a row of it heads names and counts."""
    if path.suffix.lower() != ".txt":
        return False
    try:
        sheet = read_table(path).sheet
    except Refusal:
        return False
    words = table_words()
    headings = [heading for column in sheet.columns if (heading := words.heading(column)) is not None]
    return bool(sheet.rows) and set(words.parts_needs) <= {heading.role for heading in headings}
