"""Lists of the parts that one assembly needs, as a manual prints them before its steps: name and number."""

from collections.abc import Mapping, Sequence

from msgspec.structs import replace

from lastbolt.reading.cell_counts import read_quantity
from lastbolt.reading.drafts import Book, Cite, SectionDraft, slug
from lastbolt.reading.fasteners import read_kind
from lastbolt.reading.heads import Heads
from lastbolt.reading.lexicon import Lexicon
from lastbolt.reading.parts import heads_of_table, is_parts_table
from lastbolt.reading.table_words import clean
from lastbolt.reading.tables import Table
from lastbolt.words.citation import Citation, PdfPlace, rounded
from lastbolt.words.machine import EVERY, Applies, ListedPart
from lastbolt.words.quantity import Quantity

_LEAST_ROWS = 2
_MOST_ROWS = 0.6
"""So many of the rows must have a name and a number."""
_SAME_EDGE = 0.012
_NONE = frozenset(("", "-", "–", "—", "0"))


def component_lists(tables: Sequence[Table], book: Book, cite: Cite, lex: Lexicon) -> tuple[ListedPart, ...]:
    """The lines of all such lists, each with the section in which its table stands."""
    found: list[ListedPart] = []
    before: tuple[Table, SectionDraft] | None = None
    for one in tables:
        going = _going_on(one, before[0]) if before is not None else None
        table = one if going is None else going
        name = _name_column(table)
        home = before[1] if before is not None and going is not None else None
        home = _home(table, book) if home is None and name is not None else home
        if home is None or name is None:
            continue
        lines = _lines(table, name, cite, lex)
        counted = sum(any(_count(q, lex) for _, q in counts) for _, counts, _ in lines)
        least = _LEAST_ROWS if going is None else 1
        if counted >= least and counted >= _MOST_ROWS * len(lines):
            found += _parts(lines, home, cite.source, lex)
            before = table, home
    return tuple(_told_apart(found))


def _going_on(table: Table, before: Table) -> Table | None:
    """A ruled table at the top of the next page without headings of its own, with those of the list before it
    whose columns it repeats."""
    begins = table.pdf_page == before.pdf_page + 1 and table.top is not None and table.ruled
    if not begins or not before.edges or len(table.edges) != len(before.edges):
        return None
    if any(heading is not None for heading in table.headings) or _off(table.edges, before.edges):
        return None
    rows = (table.top, *table.rows) if table.top is not None else table.rows
    return table._replace(
        titles=before.titles, headings=before.headings, heads=before.heads, rows=rows, top=None
    )


def _off(one: Sequence[float], other: Sequence[float]) -> bool:
    return any(abs(a - b) > _SAME_EDGE for a, b in zip(one, other, strict=True))


def _home(table: Table, book: Book) -> SectionDraft | None:
    """The section in whose flow the table stands."""
    _, top, _, bottom = table.box
    for section in book.sections:
        for piece in section.tables:
            for at in piece.lines:
                middle = (at.line.top + at.line.bottom) / 2
                if at.pdf_page == table.pdf_page and top <= middle <= bottom:
                    return section
    return None


def _name_column(table: Table) -> int | None:
    """The column of names: only where the table is a plain list, no parts list with items or numbers, and
    speaks of nothing measured."""
    if is_parts_table(table):
        return None
    heads = heads_of_table(table)
    if not heads.quantities or heads.roles.keys() & {"torque", "limit", "see", "work", "figure"}:
        return None
    if "name" in heads.roles:
        return heads.roles["name"]
    column = heads.roles.get("item")
    return column if column is not None and _wordy([row.cells[column].text for row in table.rows]) else None


def _wordy(cells: Sequence[str]) -> bool:
    """Whether most cells hold a word: a number of an item is none."""
    return sum(sum(c.isalpha() for c in cell) > 2 for cell in cells) > 0.6 * max(len(cells), 1)


Line = tuple[str, list[tuple[str, str]], Citation]
"""The name, the variant and words of each count, and where."""


def _lines(table: Table, name: int, cite: Cite, lex: Lexicon) -> list[Line]:
    heads = heads_of_table(table)
    printed = cite.printed.get(table.pdf_page)
    found: list[Line] = []
    for row in table.rows:
        cells = [cell.text.strip() for cell in row.cells]
        if not cells[name] or clean(cells[name]) == clean(table.titles[name]):
            continue
        place = PdfPlace(table.pdf_page, printed, rounded(row.box))
        words = " | ".join(cell for cell in cells if cell)
        found.append((cells[name], _counts(cells, heads), Citation(cite.source, place, words)))
    return found


def _counts(cells: Sequence[str], heads: Heads) -> list[tuple[str, str]]:
    return [(variant, cells[column]) for column, variant in heads.quantities if column < len(cells)]


def _count(cell: str, lex: Lexicon) -> bool:
    return read_quantity(cell, lex).kind != "unsaid"


def _parts(lines: Sequence[Line], home: SectionDraft, source: str, lex: Lexicon) -> list[ListedPart]:
    found = []
    assembly = f"{source}/section/{home.anchor}"
    for name, counts, citation in lines:
        base = f"{source}/component/{home.anchor}/{slug(name, 40)}"
        for variant, quantity in _each(counts, lex).items():
            applies = Applies(variants=(variant,), words=variant) if variant else EVERY
            identity = f"{base}@{slug(variant)}" if variant else base
            kind = read_kind(name, lex)
            found.append(
                ListedPart(
                    identity, source, assembly, home.title, name, quantity, kind,
                    applies=applies, citations=(citation,),
                )
            )  # fmt: skip
    return found


def _each(counts: Sequence[tuple[str, str]], lex: Lexicon) -> Mapping[str, Quantity]:
    """The count for each variant; one for all where the columns say the same or there is but one."""
    read = {variant: read_quantity(cell, lex) for variant, cell in counts}
    if len({(q.kind, q.low, q.high) for q in read.values()}) <= 1:
        return {"": next(iter(read.values()))} if read else {}
    return {variant: read[variant] for variant, cell in counts if cell not in _NONE}


def _told_apart(parts: Sequence[ListedPart]) -> list[ListedPart]:
    seen: dict[str, int] = {}
    told = []
    for part in parts:
        seen[part.id] = seen.get(part.id, 0) + 1
        told.append(part if seen[part.id] == 1 else replace(part, id=f"{part.id}~{seen[part.id]}"))
    return told
