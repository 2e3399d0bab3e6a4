"""Every word of every source of a model, with its place: from the files, else from the model."""

import contextlib
import os
from collections.abc import Callable, Iterable
from pathlib import Path

import msgspec

from lastbolt.app.passages import of_model, of_pages, of_publication, of_sheet, of_text
from lastbolt.edge.pdf_in import read_pages
from lastbolt.edge.plain_text import plain_values
from lastbolt.edge.safe_files import sha256_of, write_file
from lastbolt.edge.table_in import read_table
from lastbolt.edge.workbook_in import WORKBOOKS, read_workbook
from lastbolt.edge.written_in import SORTS, read_written
from lastbolt.edge.xml_in import is_marked_up, read_publication
from lastbolt.searching.index import Passage
from lastbolt.words.machine import Machine, Source
from lastbolt.words.page import PageLayout
from lastbolt.words.problem import Problem, Refusal

FORM = "1"
"""Of what is kept; another number and it is read again."""
SHEET = ", sheet "
TEXTS = frozenset(sort.media_type for sort in SORTS.values())
Progress = Callable[[int, int], None]
_decoder = msgspec.msgpack.Decoder(tuple[Passage, ...])


def passages_of(
    machine: Machine, folder: Path, progress: Progress | None = None
) -> tuple[tuple[Passage, ...], tuple[Problem, ...]]:
    """The passages of all sources, and which of them could only be taken from the model."""
    found: list[Passage] = []
    problems: list[Problem] = []
    for source in machine.sources:
        path = folder / Path(source.file.partition(SHEET)[0]).name
        words: tuple[Passage, ...] | None = None
        if source.file and path.exists():
            with contextlib.suppress(Refusal):
                words = _of_file(path, source, machine, progress)
        if words is None:
            words = tuple(of_model(machine, source.id))
            problems.append(_not_there(source, path))
        found += words
    return plain_values(tuple(found)), tuple(problems)


def _not_there(source: Source, path: Path) -> Problem:
    what = (
        f'The file of "{source.title}" is not there, or not the one that was read: only what was read of it '
        "is searched."
    )
    return Problem("LB-K05", what, str(path), "Give its folder with --sources.", "note")


def _of_file(
    path: Path, source: Source, machine: Machine, progress: Progress | None
) -> tuple[Passage, ...] | None:
    """The words of a source's own file; None when it is another file than the one that was read."""
    if is_marked_up(path):
        publication = read_publication(path)
        same = publication.sha256 == source.sha256
        return tuple(of_publication(source.id, publication)) if same else None
    if source.sha256 and sha256_of(path) != source.sha256:
        return None
    if path.suffix.lower() in WORKBOOKS:
        name = source.file.partition(SHEET)[2]
        sheets = [table.sheet for sheet, table in read_workbook(path) if sheet == name]
        return tuple(passage for sheet in sheets for passage in of_sheet(source.id, sheet))
    if source.media_type in TEXTS:
        return tuple(of_text(source.id, read_written(path).writing))
    if path.suffix.lower() != ".pdf":
        return tuple(of_sheet(source.id, read_table(path).sheet))
    return _of_pdf(path, source, machine, progress)


def _of_pdf(path: Path, source: Source, machine: Machine, progress: Progress | None) -> tuple[Passage, ...]:
    printed = {page.pdf_page: page.printed_page for page in machine.pages if page.source == source.id}
    name = f"{FORM}-{source.id}-{source.sha256}.msgpack"
    kept = folder() / name
    if source.sha256 and (old := _kept(kept)) is not None:
        return old
    pages = list(read_pages(path, progress=progress))
    whole = all(isinstance(page, PageLayout) for page in pages)
    layouts = [page for page in pages if isinstance(page, PageLayout)]
    made = tuple(of_pages(source.id, _in_order(layouts), printed))
    if source.sha256 and whole:
        _keep(kept, made)
    return made


def _in_order(pages: Iterable[PageLayout]) -> list[PageLayout]:
    return sorted(pages, key=lambda page: page.pdf_page)


def folder() -> Path:
    """Where the words of this user's sources are kept."""
    base = os.environ.get("XDG_CACHE_HOME") or str(Path.home() / ".cache")
    return Path(base) / "lastbolt" / "words"


def _kept(path: Path) -> tuple[Passage, ...] | None:
    try:
        return _decoder.decode(path.read_bytes())
    except (OSError, msgspec.DecodeError):
        return None


def _keep(path: Path, passages: tuple[Passage, ...]) -> None:
    """Keep them; that they cannot be kept is no reason to stop."""
    with contextlib.suppress(OSError, Refusal):
        path.parent.mkdir(parents=True, exist_ok=True)
        write_file(path, msgspec.msgpack.encode(passages))
