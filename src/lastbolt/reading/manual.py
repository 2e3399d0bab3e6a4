"""One PDF source, page by page, into a book: sections, procedures (still raw), figures, rows, torques."""

from collections.abc import Sequence
from typing import NamedTuple

import msgspec
from msgspec import Struct

from lastbolt.reading.asides import asides_of, without_running
from lastbolt.reading.beside_lists import legends_told, with_fasteners_beside
from lastbolt.reading.bolt_table import caption_of, read_bolt_table
from lastbolt.reading.caution_habit import learn_cautions
from lastbolt.reading.component_lists import component_lists
from lastbolt.reading.drafts import Book, Cite, SectionDraft
from lastbolt.reading.figure_legends import with_printed
from lastbolt.reading.figures import Caption, FoundFigure, figures_on
from lastbolt.reading.gathering import gathered
from lastbolt.reading.heading_cells import heads_apart
from lastbolt.reading.headless import Going
from lastbolt.reading.indents import learn_indents
from lastbolt.reading.leader_parts import parts_lists
from lastbolt.reading.leader_tables import torque_lists
from lastbolt.reading.lexicon import lexicon
from lastbolt.reading.limit_lists import limits_in_lines
from lastbolt.reading.limit_pages import PageOfTables, tables_at, words_beside
from lastbolt.reading.limit_problems import told
from lastbolt.reading.limit_sections import unread_sections
from lastbolt.reading.limit_table import Limits, read_limit_tables
from lastbolt.reading.lines import Line, Region, lines_of
from lastbolt.reading.loose_parts import loose_parts
from lastbolt.reading.marks import mark_of
from lastbolt.reading.parts import PartsSettings, is_parts_table
from lastbolt.reading.parts_list import PartsReader
from lastbolt.reading.piece import STEPS
from lastbolt.reading.plain_heads import with_plain_heads
from lastbolt.reading.problems import Reporter
from lastbolt.reading.procedure_drafts import ProcedureDraft
from lastbolt.reading.procedures import ProcedureReader
from lastbolt.reading.raised import raise_marks
from lastbolt.reading.row_notes import with_notes_of_rows
from lastbolt.reading.run_in import learn_run_in, without_run_ins
from lastbolt.reading.running import PageText, Running, running_of
from lastbolt.reading.running_parts import running_parts
from lastbolt.reading.schema import learn_schema, number_alone
from lastbolt.reading.seen import pages_seen
from lastbolt.reading.sideways import straightened
from lastbolt.reading.step_runs import bids
from lastbolt.reading.step_table import as_lines, step_table_of
from lastbolt.reading.supply_tables import Supplies, read_supply_tables
from lastbolt.reading.tables import Table
from lastbolt.reading.torque_sections import torques_in_words
from lastbolt.reading.torque_table import read_torque_table
from lastbolt.reading.underlines import underlined
from lastbolt.reading.unmade_tables import Cited, with_tables_told
from lastbolt.words.citation import Box
from lastbolt.words.machine import Figure, ListedPart, PageSeen, PartsRow, SourceRole, TableRow, TorqueRow
from lastbolt.words.measured import Limit
from lastbolt.words.page import PageLayout
from lastbolt.words.problem import Problem

_PICTURED = 0.3


class BookSettings(Struct, frozen=True):
    """What the rules need to know of a source: its id, its title for people, its language."""

    source: str
    title: str
    language: str = "english"


class BookRead(NamedTuple):
    """A source as read; references are looked up later, over all sources."""

    settings: BookSettings
    title: str
    edition: str
    role: SourceRole
    book: Book
    procedures: tuple[ProcedureDraft, ...]
    texts: tuple[ProcedureDraft, ...]
    """Sections that tell nothing to do; what they point at is looked up all the same."""
    figures: tuple[Figure, ...]
    rows: tuple[PartsRow, ...]
    torques: tuple[TorqueRow, ...]
    bolt_rows: tuple[TableRow, ...]
    limits: tuple[Limit, ...]
    supplies: Supplies
    components: tuple[ListedPart, ...]
    pages: tuple[PageSeen, ...]
    problems: tuple[Problem, ...]
    running: Running
    cite: Cite
    figure_homes: dict[str, SectionDraft]
    """Figure id -> the section in whose flow it stands."""
    turns: dict[int, int]
    """PDF page -> by how many degrees it was turned to be read; all boxes are those of the turned page."""
    plain: Sequence[tuple[int, Sequence[Line]]] = ()
    """The lines of the pages as they stand, without running heads, before any rule took them."""


class _Kept(NamedTuple):
    text: PageText
    tables: tuple[Table, ...]
    figures: tuple[FoundFigure, ...]
    captions: tuple[Caption, ...]


class BookReader:
    """Takes the pages of one source in order; `finish` reads them as a book. Layouts are not kept."""

    def __init__(self, settings: BookSettings) -> None:
        self.settings = settings
        self.language = lexicon(settings.language)
        self._kept: list[_Kept] = []
        self._going = Going()
        self._turns: dict[int, int] = {}

    def add(self, page: PageLayout) -> None:
        """Take in the next page."""
        page, turn, sideways = straightened(page)
        if turn:
            self._turns[page.pdf_page] = turn
        page = raise_marks(page)
        tables: list[Table] = []
        tables_of_steps: list[Table] = []
        for table in self._going.tables(page):
            steps_in = step_table_of(table, self.language)
            (tables if steps_in is None else tables_of_steps).append(steps_in or table)
        seen = figures_on(page, self.settings.source, tables)
        regions = [Region("table", table.box) for table in tables]
        for found in seen.found:
            callouts = tuple(callout.box for callout in found.figure.callouts)
            regions += [Region("figure", box, callouts) for box in found.taken[:1]]
            regions += [Region("figure", box) for box in found.taken[1:]]
        regions += [Region("figure", box) for box in seen.unclaimed if not _mostly_text(page, box)]
        steps = dict(enumerate(tables_of_steps, start=len(regions)))
        regions += [Region(STEPS, table.box) for table in steps.values()]
        lines = lines_of(page, regions)
        lists = parts_lists(page.pdf_page, lines) or running_parts(page.pdf_page, lines)
        lists += loose_parts(page, [table.box for table in (*tables, *tables_of_steps, *lists)])
        if lists:
            tables += lists
            lines = lines_of(page, [*regions, *(Region("table", table.box) for table in lists)])
        lines = underlined(heads_apart(lines), page.drawn)
        if steps:
            lines = as_lines(lines, steps, self.language)
        pictured = (
            sum(_area(d.left, d.top, d.right, d.bottom) for d in page.drawn if d.kind == "image") > _PICTURED
        )
        size = len(page.words), pictured, len(page.drawn)
        figures = [found.taken[0] for found in seen.found]
        asides = asides_of(page, sideways, lines, [*figures, *seen.unclaimed], figures)
        asides = (*asides, *legends_told(seen.found, self.language))
        text = PageText(page.pdf_page, tuple(lines), page.label, *size, page.scanned, asides)
        self._kept.append(_Kept(text, tuple(tables), seen.found, seen.captions))

    def finish(self) -> BookRead:
        """The book read with its own schema."""
        pages = [kept.text for kept in self._kept]
        pages = [page._replace(asides=a) for page, a in zip(pages, without_running(pages), strict=True)]
        running = running_of(pages, self._numbers, self._orders)
        reporter = Reporter(self.settings.title)
        plain = body = [(page.pdf_page, _body(page, running)) for page in pages]
        kinds = learn_run_in((line for _, lines in body for line in lines), self.language)
        body = [(page, without_run_ins(lines, kinds, self.language)) for page, lines in body]
        body = with_plain_heads(body, self.language)
        schema = learn_schema(
            (line for _, lines in body for line in lines if line.region in ("", STEPS)), self.language
        )
        schema = schema._replace(indents=learn_indents(lines for _, lines in body))
        cite = Cite(self.settings.source, running.printed)
        book, body = gathered(body, schema, pages, running, self.settings.language)
        self.language = book.language
        habit = learn_cautions(book.sections)
        reader = ProcedureReader(self.language, schema, cite, reporter, cautions=habit)
        parts, part_figures, torques, problems = self._tables(running, book)
        sections = [s for s in book.sections if not _only_parts(s, self._kept)]
        drafts = [(s, reader.read(s) if s in sections else None) for s in book.sections]
        procedures = tuple(draft for _, draft in drafts if draft is not None)
        figures = self._figures(running, part_figures)
        role: SourceRole = (
            "parts list" if len(parts) > max(3, sum(len(p.steps) for p in procedures)) else "manual"
        )
        pages_of_parts = {t.pdf_page for kept in self._kept for t in kept.tables if is_parts_table(t)}
        mute = role == "parts list"
        unread = [s for s, d in drafts if d is None and (mute or s not in sections)]
        pages = with_fasteners_beside(pages, running, book, unread, self.language)
        book.telling = [draft.section for draft in procedures]
        limits, supplies = self._measured(body, running, book, cite)
        tables = [table for kept in self._kept for table in kept.tables]
        bolt_rows, components = self._bolt_rows(running), component_lists(tables, book, cite, self.language)
        legends = [line for figure in figures for line in figure.legend_lines]
        made: list[Cited] = [*parts, *torques, *bolt_rows, *components, *limits.limits, *legends]
        made += [*supplies.consumables, *supplies.tools]
        pages = with_tables_told(pages, tables, made, self.language)
        seen = pages_seen(pages, running, book, pages_of_parts, self.settings.source, reporter)
        title, edition = _named(
            pages, running, self.settings.title, self.language.words("front_words", "edition")
        )
        return BookRead(
            self.settings, title, edition, role, book, procedures, tuple(reader.texts), figures, parts,
            torques, bolt_rows, limits.limits, supplies, components, seen,
            (*problems, *limits.problems, *reporter.found), running, cite,
            _homes(book, figures, self._kept), self._turns, plain,
        )  # fmt: skip

    def _numbers(self, text: str) -> bool:
        """Whether a line is a section's number and nothing more."""
        return number_alone(text, self.language) is not None

    def _orders(self, text: str) -> bool:
        """Whether a line tells what to do, whatever mark stands before it."""
        marked = mark_of(text, self.language)
        words = marked[1] if marked is not None else text
        return words.rstrip().endswith((".", ":")) and bids(words.replace("\t", " "), self.language)

    def _tables(
        self, running: Running, book: Book
    ) -> tuple[tuple[PartsRow, ...], tuple[Figure, ...], tuple[TorqueRow, ...], list[Problem]]:
        parts = PartsReader(
            PartsSettings(self.settings.source, self.settings.title, (), self.settings.language)
        )
        tables: list[Table] = []
        beside: dict[int, str] = {}
        for kept in self._kept:
            printed = running.printed.get(kept.text.pdf_page)
            figures = [_printed_figure(found, printed) for found in kept.figures]
            parts.add_page(kept.tables, figures, printed, kept.captions)
            others = [table for table in kept.tables if not is_parts_table(table)]
            tables += others
            beside |= {id(table): words_beside(kept.text.lines, table.box) for table in others}
        torques: list[TorqueRow] = []
        problems: list[Problem] = []
        for table in (*tables, *torque_lists(book.sections, self.language)):
            printed = running.printed.get(table.pdf_page)
            words = beside.get(id(table), "")
            read = read_torque_table(
                table, self.settings.source, self.settings.title, printed, self.settings.language, words
            )
            if read is not None:
                torques += read.rows
                problems += read.problems
        cite = Cite(self.settings.source, running.printed)
        problems += torques_in_words(book.sections, torques, cite, self.settings.title, self.language)
        made, figures_of_parts = parts.finish()
        pages, settings = [kept.text for kept in self._kept], self.settings
        rows, noted = with_notes_of_rows(made.rows, pages, settings.title, settings.language)
        return rows, figures_of_parts, tuple(torques), [*problems, *made.problems, *noted]

    def _bolt_rows(self, running: Running) -> tuple[TableRow, ...]:
        """The rows of the source's own tables of fasteners."""
        found: list[TableRow] = []
        for kept in self._kept:
            for table in kept.tables:
                if not is_parts_table(table):
                    caption = caption_of(table, kept.text.lines)
                    printed = running.printed.get(kept.text.pdf_page)
                    source, language = self.settings.source, self.settings.language
                    found += read_bolt_table(table, source, caption, printed, language)
        return tuple(found)

    def _measured(
        self, body: Sequence[tuple[int, list[Line]]], running: Running, book: Book, cite: Cite
    ) -> tuple[Limits, Supplies]:
        """What the source's tables of limits, tools and consumables say."""
        source, title = self.settings.source, self.settings.title
        pages = [
            PageOfTables([t for t in kept.tables if not is_parts_table(t)], lines, running.printed.get(page))
            for kept, (page, lines) in zip(self._kept, body, strict=True)
        ]
        tables = list(tables_at(pages))
        limits = read_limit_tables(tables, source, title)
        listed = limits_in_lines(book.sections, cite, self.language)
        limits = Limits((*limits.limits, *listed.limits), (*limits.problems, *told(listed.complaints, title)))
        unread = told(unread_sections(book.sections, limits.limits, cite), title)
        limits = limits._replace(problems=(*limits.problems, *unread))
        return limits, read_supply_tables(tables, source)

    def _figures(self, running: Running, part_figures: Sequence[Figure]) -> tuple[Figure, ...]:
        known = {figure.id: figure for figure in part_figures}
        for kept in self._kept:
            printed = running.printed.get(kept.text.pdf_page)
            for found in kept.figures:
                figure = _printed_figure(found, printed).figure
                known.setdefault(figure.id, figure)
        return tuple(known.values())


def _area(left: float, top: float, right: float, bottom: float) -> float:
    return max(0.0, right - left) * max(0.0, bottom - top)


def _mostly_text(page: PageLayout, box: Box) -> bool:
    """Whether a drawing without caption is really a frame around sentences."""
    left, top, right, bottom = box
    inside = [
        w
        for w in page.words
        if left <= (w.left + w.right) / 2 <= right and top <= (w.top + w.bottom) / 2 <= bottom
    ]
    letters = [w for w in inside if any(c.isalpha() for c in w.text)]
    return len(letters) > 4 and len(letters) > 0.6 * len(inside)


def _body(page: PageText, running: Running) -> list[Line]:
    aside = running.lines.get(page.pdf_page, frozenset())
    return [line for index, line in enumerate(page.lines) if index not in aside]


def _printed_figure(found: FoundFigure, printed: str | None) -> FoundFigure:
    place = found.figure.place
    if place is None or printed is None:
        return found
    at = msgspec.structs.replace(place, printed_page=printed)
    lines = tuple(with_printed(line, printed) for line in found.figure.legend_lines)
    return found._replace(figure=msgspec.structs.replace(found.figure, place=at, legend_lines=lines))


def _only_parts(section: SectionDraft, kept: Sequence[_Kept]) -> bool:
    """Whether a section holds parts tables and no steps: its words are not instructions."""
    if any(item.kind == "step" for item in section.items):
        return False
    by_page = {k.text.pdf_page: k for k in kept}
    tables = [t for piece in section.tables for t in by_page[piece.lines[0].pdf_page].tables]
    return any(is_parts_table(table) for table in tables)


def _homes(book: Book, figures: Sequence[Figure], kept: Sequence[_Kept]) -> dict[str, SectionDraft]:
    """The section in whose flow each figure stands: where its words are, else the last begun above it."""
    homes: dict[str, SectionDraft] = {}
    for figure in figures:
        if figure.place is None or figure.place.box is None:
            continue
        page, (left, top, right, bottom) = figure.place.pdf_page, figure.place.box
        for section in book.sections:
            for piece in section.figures:
                line = piece.lines[0].line
                if (
                    piece.lines[0].pdf_page == page
                    and left - 0.05 <= line.left <= right + 0.05
                    and top - 0.05 <= line.top <= bottom + 0.1
                ):
                    homes.setdefault(figure.id, section)
        if figure.id not in homes:
            above = [
                s for s in book.sections
                if (s.heading.lines[0].pdf_page, s.heading.lines[0].line.top) <= (page, top)
            ]  # fmt: skip
            if above:
                homes[figure.id] = above[-1]
    return homes


def _named(
    pages: Sequence[PageText], running: Running, fallback: str, edition_words: Sequence[str]
) -> tuple[str, str]:
    """The title (the largest words of the first page, where it looks like a cover) and the edition."""
    if not pages or not pages[0].lines:
        return fallback, ""
    lines = list(pages[0].lines)
    edition = next((e for e in (_edition(line.text, edition_words) for line in lines) if e), "")
    if sum(line.words for line in lines) > 90:
        return fallback, edition
    largest = max(line.size_pt for line in lines)
    title = " ".join(line.text.replace("\t", " ") for line in lines if line.size_pt > largest - 0.6)
    second = sorted({round(line.size_pt, 1) for line in lines if line.size_pt <= largest - 0.6}, reverse=True)
    if second and second[0] > 12:
        title += ", " + " ".join(
            line.text.replace("\t", " ") for line in lines if abs(line.size_pt - second[0]) < 0.3
        )
    return title[:120], edition


def _edition(text: str, words: Sequence[str]) -> str:
    low = text.lower()
    for word in words:
        at = low.find(word)
        if at >= 0 and text[at + len(word) :].strip():
            return text[at : at + 40].strip()
    return ""
