"""Files that were opened by an edge into one machine model, with a report of what was read."""

from collections.abc import Collection, Iterable, Mapping, Sequence
from typing import Literal, NamedTuple

import msgspec
from msgspec import Struct

from lastbolt.app.named_sources import machine_name, told_apart_by_title, with_lineage
from lastbolt.app.read_lists import Listed, read_list
from lastbolt.app.read_report import ReadReport, references_of, report_of
from lastbolt.app.tie_rows import with_rows_tied
from lastbolt.app.turned_pages import with_pages_turned_back
from lastbolt.app.written_places import Text, with_text_places
from lastbolt.reading.drafts import slug
from lastbolt.reading.link import Linked, RowFinder, link
from lastbolt.reading.manual import BookRead, BookReader, BookSettings
from lastbolt.reading.parts import PartsSettings
from lastbolt.reading.problems import Reporter
from lastbolt.reading.step_facts import with_step_facts
from lastbolt.reading.text_pages import parts_of
from lastbolt.reading.witnesses import merged_rows
from lastbolt.reading.xml_book import MarkedRead, link_publication, read_publication
from lastbolt.words.columns import ColumnsRead, Layout
from lastbolt.words.machine import (
    EVERY,
    MODEL_SCHEMA,
    Figure,
    Machine,
    PartsRow,
    Procedure,
    Source,
    SourceRole,
)
from lastbolt.words.page import PageLayout
from lastbolt.words.problem import Problem
from lastbolt.words.sheet import Sheet
from lastbolt.words.tree import Publication
from lastbolt.words.written import Writing


class SourceFile(Struct, frozen=True):
    """One file as an edge names it: what it is called, its digest, and its role where a person said it."""

    name: str
    sha256: str = ""
    media_type: str = ""
    role: SourceRole | None = None
    title: str = ""
    lineage: str = ""


class Paged(NamedTuple):
    """A file that came as pages, one after the other; what went wrong with a page comes in its place."""

    file: SourceFile
    pages: Iterable[PageLayout | Problem]
    text: Text | None = None
    """The text that was set as these pages."""


class Tabled(NamedTuple):
    """A file that came as one table, with what there is to say about the file."""

    file: SourceFile
    sheet: Sheet
    problems: tuple[Problem, ...] = ()


class Marked(NamedTuple):
    """A folder, archive or file of XML modules."""

    file: SourceFile
    publication: Publication


class Written(NamedTuple):
    """A text without pages, with what there is to say about the file."""

    file: SourceFile
    writing: Writing
    problems: tuple[Problem, ...] = ()


class ReadResult(NamedTuple):
    """The model and the report."""

    machine: Machine
    report: ReadReport
    layouts: tuple[Layout, ...] = ()
    """The layout of each table file, to be remembered."""


def read_sources(
    files: Iterable[Paged | Tabled | Marked | Written],
    name: str = "",
    language: str = "english",
    layouts: Sequence[Layout] = (),
) -> ReadResult:
    """All files read into one model: references looked up over all of them, rows of one list merged.

    `layouts`: what is remembered of the columns of table files.
    """
    taken = _Taken(language, layouts)
    for file in files:
        taken.add(_set(file) if isinstance(file, Written) else file)
    machine = with_pages_turned_back(_machine_of(taken, name), _turns(taken.books))
    machine = with_rows_tied(with_text_places(machine, taken.texts))
    columns = tuple(one.columns for one in taken.lists)
    return result_of(machine, columns, tuple(one.layout for one in taken.lists))


class _Taken:
    """What the files hold, file by file."""

    def __init__(self, language: str, layouts: Sequence[Layout]) -> None:
        self.language, self.layouts = language, layouts
        self.books: list[BookRead] = []
        self.marked: list[MarkedRead] = []
        self.lists: list[Listed] = []
        self.sources: list[Source] = []
        self.rows: list[PartsRow] = []
        """Of modules and lists, in their order; those of books stand in the books."""
        self.problems: list[Problem] = []
        self.texts: dict[str, Text] = {}
        self._names: set[str] = set()

    @property
    def reads(self) -> list[BookRead | MarkedRead]:
        """Everything that is no list."""
        return [*self.books, *self.marked]

    def add(self, file: Paged | Tabled | Marked) -> None:
        """Read one file."""
        identity, title = _identity(file.file.name, self._names), _title(file.file)
        if isinstance(file, Paged):
            self._book(file, BookSettings(identity, title, self.language))
        elif isinstance(file, Marked):
            self._modules(file, BookSettings(identity, title, self.language))
        else:
            self._list(file, PartsSettings(identity, title, _variants_so_far(self.books), self.language))

    def _book(self, file: Paged, settings: BookSettings) -> None:
        if file.text:
            self.texts[settings.source] = file.text
        book, lost = _read_book(file, settings)
        self.books.append(book)
        self.sources.append(_source_of_book(book, file.file))
        self.problems += [*lost, *book.problems]

    def _modules(self, file: Marked, settings: BookSettings) -> None:
        modules = read_publication(file.publication, settings)
        self.marked.append(modules)
        self.rows += modules.rows
        self.problems += modules.problems
        self.sources.append(_source_of_modules(modules, file.file))

    def _list(self, file: Tabled, settings: PartsSettings) -> None:
        read = read_list(file.sheet, settings, self.layouts)
        self.lists.append(read)
        self.rows += read.rows
        self.problems += [*file.problems, *read.problems]
        self.sources.append(_source_of_sheet(file.file, settings.source, len(read.rows)))


def _machine_of(taken: _Taken, name: str) -> Machine:
    """The model: references looked up over all sources, rows of one list merged."""
    books, reads = taken.books, taken.reads
    kinds = {source.id: source.title for source in taken.sources}
    kept, disagreements = merged_rows([*(row for book in books for row in book.rows), *taken.rows], kinds)
    linked = _linked(books, taken.marked, RowFinder(_by_item(kept)))
    linked = _with_step_facts(linked, kinds, taken.language)
    told = {section.id.partition("/")[0] for section in linked.sections}
    lost = _nothing_read(taken.sources, books, taken.rows, told)
    return Machine(
        schema=MODEL_SCHEMA,
        name=name or machine_name(taken.sources),
        sources=with_lineage(told_apart_by_title(taken.sources)),
        sections=linked.sections,
        procedures=linked.procedures,
        figures=_figures(linked.figures, (figure for one in taken.lists for figure in one.figures)),
        rows=tuple(kept),
        torques=tuple(torque for read in reads for torque in read.torques),
        bolt_rows=tuple(row for read in reads for row in read.bolt_rows),
        components=tuple(part for book in books for part in book.components),
        limits=tuple(limit for read in reads for limit in read.limits),
        consumables=tuple(one for book in books for one in book.supplies.consumables),
        tools=tuple(tool for book in books for tool in book.supplies.tools),
        pages=tuple(page for book in books for page in book.pages),
        problems=(*taken.problems, *disagreements, *linked.problems, *lost),
        variants=_variants(linked.procedures, kept),
    )


def _set(file: Written) -> Paged:
    """A text set as pages; what there is to say about the file comes before them."""
    text = Text(file.file.name, tuple(parts_of(file.writing)), file.writing)
    return Paged(file.file, [*file.problems, *(part.page for part in text.parts)], text)


def result_of(
    machine: Machine, columns: tuple[ColumnsRead, ...] = (), layouts: tuple[Layout, ...] = ()
) -> ReadResult:
    """The model with its report."""
    return ReadResult(machine, msgspec.structs.replace(report_of(machine), columns=columns), layouts)


def _read_book(file: Paged, settings: BookSettings) -> tuple[BookRead, list[Problem]]:
    reader = BookReader(settings)
    lost: list[Problem] = []
    for page in file.pages:
        if isinstance(page, Problem):
            lost.append(page)
        else:
            reader.add(page)
    return reader.finish(), lost


def _turns(books: Iterable[BookRead]) -> dict[tuple[str, int], int]:
    """By how many degrees the contents of each turned page are turned."""
    return {(book.settings.source, page): turn for book in books for page, turn in book.turns.items()}


def _identity(name: str, taken: set[str]) -> str:
    """A short id from the file's name, told apart where two files have one name."""
    stem = name.replace("\\", "/").rsplit("/", 1)[-1]
    base = slug(stem.rsplit(".", 1)[0], 32)
    identity = base
    if identity in taken:
        identity = slug(f"{base}-{stem.rsplit('.', 1)[-1]}", 40)
    count = 2
    while identity in taken:
        identity, count = f"{base}-{count}", count + 1
    taken.add(identity)
    return identity


def _title(file: SourceFile) -> str:
    return file.title or file.name.replace("\\", "/").rsplit("/", 1)[-1]


def _linked(books: Sequence[BookRead], marked: Sequence[MarkedRead], finder: RowFinder) -> Linked:
    """What all sources say, with their references looked up."""
    every = [link(books, finder), *(link_publication(read, finder) for read in marked)]
    return Linked(
        tuple(s for part in every for s in part.sections),
        tuple(p for part in every for p in part.procedures),
        tuple(f for part in every for f in part.figures),
        tuple(p for part in every for p in part.problems),
    )


def _with_step_facts(linked: Linked, titles: Mapping[str, str], language: str) -> Linked:
    """With the limits, consumables and numbered tools that steps and set-up blocks name."""
    fuller = with_step_facts(linked.procedures, titles, language)
    return linked._replace(procedures=fuller.procedures, problems=(*linked.problems, *fuller.problems))


def _source_of_book(book: BookRead, file: SourceFile) -> Source:
    return Source(
        id=book.settings.source,
        title=file.title or book.title,
        role=file.role or book.role,
        lineage=file.lineage,
        edition=book.edition,
        file=file.name,
        sha256=file.sha256,
        media_type=file.media_type or "application/pdf",
        pages=len(book.pages),
        rows=len(book.rows),
    )


def _source_of_modules(read: MarkedRead, file: SourceFile) -> Source:
    return Source(
        id=read.settings.source,
        title=file.title or read.title,
        role=file.role or read.role,
        lineage=file.lineage,
        edition=read.edition,
        file=file.name,
        sha256=file.sha256,
        media_type=file.media_type,
        rows=len(read.rows),
    )


def _source_of_sheet(file: SourceFile, identity: str, count: int) -> Source:
    return Source(
        id=identity,
        title=_title(file),
        role=file.role or ("parts list" if count else "other"),
        lineage=file.lineage,
        file=file.name,
        sha256=file.sha256,
        media_type=file.media_type or "text/csv",
        rows=count,
    )


def _by_item(rows: Iterable[PartsRow]) -> dict[tuple[str, str], tuple[str, ...]]:
    found: dict[tuple[str, str], list[str]] = {}
    for row in rows:
        found.setdefault((row.figure, row.item), []).append(row.id)
    return {key: tuple(ids) for key, ids in found.items()}


def _figures(read: Iterable[Figure], named: Iterable[Figure]) -> tuple[Figure, ...]:
    """Figures with drawings first; a table file's figures only where no source draws them."""
    figures = list(read)
    drawn = {figure.number for figure in figures if figure.parts_figure}
    return (*figures, *(figure for figure in named if figure.number not in drawn))


def _variants_so_far(books: Iterable[BookRead]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(v for book in books for row in book.rows for v in row.applies.variants))


def _variants(procedures: Iterable[Procedure], rows: Iterable[PartsRow]) -> tuple[str, ...]:
    """Every variant that any fact singles out, in order of appearance."""
    found: dict[str, Literal[True]] = {}
    for procedure in procedures:
        applied = [
            procedure.applies,
            *(r.applies for r in references_of(procedure)),
            *(s.applies for s in procedure.steps),
        ]
        for applies in applied:
            if applies is not EVERY:
                found |= dict.fromkeys((*applies.variants, *applies.except_variants), True)
    for row in rows:
        found |= dict.fromkeys((*row.applies.variants, *row.applies.except_variants), True)
    return tuple(found)


def _nothing_read(
    sources: Iterable[Source],
    books: Iterable[BookRead],
    rows: Iterable[PartsRow],
    with_sections: Collection[str],
) -> list[Problem]:
    """A source of which no section and no row came out says so."""
    found: list[Problem] = []
    with_rows = {row.source for row in rows}
    read = {book.settings.source: bool(book.book.sections or book.rows) for book in books}
    for source in sources:
        if read.get(source.id, source.id in with_rows or source.id in with_sections):
            continue
        reporter = Reporter(source.title)
        what = f"Nothing was understood of {source.title}: no section, no step, no parts row."
        do = "Check that it is the right file; a scan without text must be read with text recognition first."
        reporter.add("LB-R13", what, do, ())
        found += reporter.found
    return found
