"""Files that were opened by an edge into one machine model, with a report of what was read."""

from collections import Counter
from collections.abc import Collection, Iterable, Mapping, Sequence
from typing import Literal, NamedTuple

import msgspec
from msgspec import Struct

from lastbolt.app.named_sources import machine_name, told_apart_by_title, with_lineage
from lastbolt.app.read_lists import Listed, read_list
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
    Reference,
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


class ReadReport(Struct, frozen=True):
    """How much was read, for people; references by their status, pages by what became of them."""

    pages: int = 0
    sections: int = 0
    procedures: int = 0
    steps: int = 0
    figures: int = 0
    rows: int = 0
    torques: int = 0
    limits: int = 0
    consumables: int = 0
    tools: int = 0
    references: dict[str, int] = {}
    page_states: dict[str, int] = {}
    unexplained: tuple[str, ...] = ()
    """Each unexplained page: its source, its numbers and why."""
    columns: tuple[ColumnsRead, ...] = ()
    """Of each table file, what its columns were taken for."""


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
    taken: set[str] = set()
    books: list[BookRead] = []
    marked: list[MarkedRead] = []
    sources: list[Source] = []
    rows: list[PartsRow] = []
    problems: list[Problem] = []
    texts: dict[str, Text] = {}
    lists: list[Listed] = []
    for file in (_set(one) if isinstance(one, Written) else one for one in files):
        identity = _identity(file.file.name, taken)
        if isinstance(file, Paged):
            texts |= {identity: file.text} if file.text else {}
            book, lost = _read_book(file, BookSettings(identity, _title(file.file), language))
            books.append(book)
            sources.append(_source_of_book(book, file.file))
            problems += [*lost, *book.problems]
        elif isinstance(file, Marked):
            modules = read_publication(file.publication, BookSettings(identity, _title(file.file), language))
            marked.append(modules)
            rows += modules.rows
            problems += modules.problems
            sources.append(_source_of_modules(modules, file.file))
        else:
            settings = PartsSettings(identity, _title(file.file), _variants_so_far(books), language)
            lists.append(read_list(file.sheet, settings, layouts))
            rows += lists[-1].rows
            problems += [*file.problems, *lists[-1].problems]
            sources.append(_source_of_sheet(file.file, identity, len(lists[-1].rows)))
    every = [row for book in books for row in book.rows] + rows
    kinds = {source.id: source.title for source in sources}
    kept, disagreements = merged_rows(every, kinds)
    problems += disagreements
    reads: list[BookRead | MarkedRead] = [*books, *marked]
    linked = _with_step_facts(_linked(books, marked, RowFinder(_by_item(kept))), kinds, language)
    told = {section.id.partition("/")[0] for section in linked.sections}
    problems += [*linked.problems, *_nothing_read(sources, books, rows, told)]
    machine = Machine(
        schema=MODEL_SCHEMA,
        name=name or machine_name(sources),
        sources=with_lineage(told_apart_by_title(sources)),
        sections=linked.sections,
        procedures=linked.procedures,
        figures=_figures(linked.figures, (figure for one in lists for figure in one.figures)),
        rows=tuple(kept),
        torques=tuple(torque for read in reads for torque in read.torques),
        bolt_rows=tuple(row for read in reads for row in read.bolt_rows),
        components=tuple(part for book in books for part in book.components),
        limits=tuple(limit for read in reads for limit in read.limits),
        consumables=tuple(one for book in books for one in book.supplies.consumables),
        tools=tuple(tool for book in books for tool in book.supplies.tools),
        pages=tuple(page for book in books for page in book.pages),
        problems=tuple(problems),
        variants=_variants(linked.procedures, kept),
    )
    machine = with_text_places(with_pages_turned_back(machine, _turns(books)), texts)
    columns = tuple(one.columns for one in lists)
    return result_of(with_rows_tied(machine), columns, tuple(one.layout for one in lists))


def _set(file: Written) -> Paged:
    """A text set as pages; what there is to say about the file comes before them."""
    text = Text(file.file.name, tuple(parts_of(file.writing)), file.writing)
    return Paged(file.file, [*file.problems, *(part.page for part in text.parts)], text)


def result_of(
    machine: Machine, columns: tuple[ColumnsRead, ...] = (), layouts: tuple[Layout, ...] = ()
) -> ReadResult:
    """The model with its report."""
    return ReadResult(machine, msgspec.structs.replace(report_of(machine), columns=columns), layouts)


def report_of(machine: Machine) -> ReadReport:
    """What a model holds, counted."""
    references = Counter(r.status for p in machine.procedures for r in references_of(p))
    steps = [step for procedure in machine.procedures for step in procedure.steps]
    titles = {source.id: source.title for source in machine.sources}
    states = Counter(page.state for page in machine.pages)
    open_pages = tuple(
        f"{titles.get(page.source, page.source)}, {page.called()}: {page.why}"
        for page in machine.pages
        if page.state == "unexplained"
    )
    return ReadReport(
        pages=len(machine.pages),
        sections=len(machine.sections),
        procedures=len(machine.procedures),
        steps=len(steps),
        figures=len(machine.figures),
        rows=len(machine.rows),
        torques=len(machine.torques) + sum(len(s.torques) for s in steps),
        limits=len(machine.limits) + sum(len(s.limits) for s in steps),
        consumables=len(machine.consumables)
        + sum(len(s.consumables) for s in steps)
        + sum(len(p.consumables) for p in machine.procedures),
        tools=len(machine.tools)
        + sum(len(s.numbered_tools) for s in steps)
        + sum(len(p.numbered_tools) for p in machine.procedures),
        references={str(k): v for k, v in references.items()},
        page_states={str(k): v for k, v in states.items()},
        unexplained=open_pages,
    )


def references_of(procedure: Procedure) -> tuple[Reference, ...]:
    """Every reference of a procedure, of its set-up block, its follow-on and its steps."""
    return (*procedure.before, *procedure.after, *(r for s in procedure.steps for r in s.references))


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
