"""Parts-list rows out of tables, from pages or from a table file, each with its citation."""

import re
from collections.abc import Iterable, Sequence
from typing import NamedTuple

import msgspec
from msgspec import Struct

from lastbolt.reading.cell_counts import doubt_of_name, doubt_of_places
from lastbolt.reading.fastener_signs import is_unknown
from lastbolt.reading.heads import Heads, heads_of, heads_of_list, segments_of
from lastbolt.reading.lexicon import Lexicon, lexicon
from lastbolt.reading.parts_contents import bare_item, item_of
from lastbolt.reading.parts_doubts import doubted, set_aside
from lastbolt.reading.row_engines import heading_engines, limits_by_number, row_engines
from lastbolt.reading.rows_of_words import figure_above, figure_named, lost_above, words_of_no_part
from lastbolt.reading.second_lines import continues, extended, second_size, stands_alone
from lastbolt.reading.several_in_row import doubt_of_remarks, doubt_of_several
from lastbolt.reading.table_words import TableWords, table_words
from lastbolt.reading.tables import Row, Table
from lastbolt.reading.tokens import read_kind, read_quantity, sizes_in
from lastbolt.words.citation import CellPlace, Citation, PdfPlace, rounded
from lastbolt.words.machine import Figure, PartsRow
from lastbolt.words.problem import Problem
from lastbolt.words.quantity import UNSAID, Quantity
from lastbolt.words.sheet import Sheet

_DOTS = re.compile(r"^(?:[.·•]\s*)+")
_ITEM = re.compile(r"[\dA-Za-z]{1,4}(?:[-.]\d{1,3})?[a-zA-Z]?")
_NO_COUNT = frozenset(("", "-", "–", "—", "0", "."))
_INDENT_EM = 0.012


class PartsSettings(Struct, frozen=True):
    """What the rules need to know of the source: its id, its name for people, and the known variants."""

    source: str
    title: str
    variants: tuple[str, ...] = ()
    language: str = "english"


class Parts(NamedTuple):
    """The rows read, and what is to be said about them."""

    rows: tuple[PartsRow, ...]
    problems: tuple[Problem, ...]


class RawRow(NamedTuple):
    """One row as read, before its words are understood. `figure` and `figure_title`: what it stands under."""

    cells: tuple[str, ...]
    citation: Citation
    figure: str
    figure_title: str
    indent: int = 0
    doubt: str = ""


def heads_of_table(table: Table, known: Iterable[str] = ()) -> Heads:
    """Which column of a table on a page is what."""
    cells = [tuple(cell.text for cell in row.cells) for row in table.rows]
    return heads_of(table.titles, table.headings, known, cells)


def is_parts_table(table: Table, language: TableWords | None = None) -> bool:
    """Whether the table is a parts list: names with quantities, and items or part numbers to tell them by."""
    words = language or table_words()
    if table.of:
        return False
    heads = heads_of_table(table)
    roles = set(heads.roles) | ({"quantity"} if heads.quantities else set())
    if not set(words.parts_needs) <= roles or not roles & {"item", "part_number"}:
        return False
    if "tool" in roles and "part_number" not in roles:
        return False
    return not roles & {"torque", "limit"}


def rows_of_table(
    table: Table, settings: PartsSettings, under: tuple[str, str], printed_page: str | None = None
) -> Parts:
    """The parts rows of a table on a page; `under` is the figure's number and title it stands with."""
    heads = heads_of_table(table, settings.variants)
    lex, name = lexicon(settings.language), heads.roles.get("name", 0)
    least = min((r.cells[name].left for r in table.rows if r.cells[name].text), default=0.0)
    raws: list[RawRow] = []
    aside: list[Problem] = []
    for row in table.rows:
        cells = tuple(cell.text for cell in row.cells)
        if _repeats_headings(cells, table.titles):
            continue
        place = PdfPlace(table.pdf_page, printed_page, rounded(row.box))
        citation = Citation(settings.source, place, " | ".join(c for c in cells if c))
        figure = heads.text("figure", cells) or under[0]
        words_only = continues(cells, heads)
        if words_only and _is_heading(row, name) and raws:
            continue
        if words_only and not _is_heading(row, name) and _belongs(raws, cells, citation, heads, lex):
            continue
        if words_only and not _is_heading(row, name) and not _fastener(cells, heads, lex):
            aside.append(set_aside(cells, settings.title, citation))
            continue
        indent = round((row.cells[name].left - least) / _INDENT_EM) if row.cells[name].text else 0
        raws.append(RawRow(cells, citation, figure, under[1], min(indent, 9)))
    rows = tuple(_unlike([made for raw in raws for made in _understood(raw, heads, settings)]))
    return Parts(rows, (*aside, *doubted(rows, settings.title)))


def rows_of_sheet(sheet: Sheet, settings: PartsSettings, language: TableWords | None = None) -> Parts:
    """The parts rows of a table file; a file without names or quantities gives one problem and no rows."""
    words = language or table_words()
    parts: list[Parts] = []
    under = ("", "")
    for one in segments_of(sheet, words):
        named = [found for row in (*one.above, *one.rows) if (found := figure_named(row.cells, words))]
        under = figure_above(one, words) or under
        parts.append(_rows_of_segment(one, settings, words, under))
        under = named[-1] if named else under
    rows = tuple(_unlike([row for part in parts for row in part.rows])) if len(parts) > 1 else parts[0].rows
    return Parts(rows, tuple(problem for part in parts for problem in part.problems))


def _rows_of_segment(
    sheet: Sheet, settings: PartsSettings, words: TableWords, under: tuple[str, str]
) -> Parts:
    """The rows under one row of headings; `under`: the figure whose title stands above it."""
    heads = _heads_of_sheet(sheet, settings, words)
    missing = [role for role in words.parts_needs if role not in heads.roles and role != "quantity"]
    missing += [] if heads.quantities else ["quantity"]
    if missing:
        return Parts((), (_missing_columns(sheet, missing, settings, words),))
    lex, raws = lexicon(settings.language), list[RawRow]()
    aside = columns_told(heads, f"{settings.title}, line {_line_of_headings(sheet)}")
    aside += [
        set_aside(row.cells, settings.title, cite) for row, cite in lost_above(sheet, settings.source, lex)
    ]
    figure, title = under
    for row in sheet.rows:
        if _repeats_headings(row.cells, sheet.columns):
            continue
        if named := figure_named(row.cells, words):
            figure, title = named
            continue
        column = sheet.columns[heads.roles["name"]]
        said = " | ".join(cell for cell in row.cells if cell.strip())
        citation = Citation(settings.source, CellPlace(row.line, column), said)
        if words_of_no_part(row.cells, heads):
            aside.append(set_aside(row.cells, settings.title, citation))
            continue
        figure = heads.text("figure", row.cells) or figure
        title = heads.text("figure_title", row.cells) or title
        if continues(row.cells, heads):
            if _belongs(raws, row.cells, citation, heads, lex):
                continue
            if not _fastener(row.cells, heads, lex):
                aside.append(set_aside(row.cells, settings.title, citation))
                continue
        raws.append(RawRow(tuple(row.cells), citation, figure, title, doubt=row.doubt))
    rows = tuple(_unlike([made for raw in raws for made in _understood(raw, heads, settings)]))
    return Parts(rows, (*aside, *doubted(rows, settings.title)))


def figures_of_sheet(
    sheet: Sheet, settings: PartsSettings, language: TableWords | None = None
) -> tuple[Figure, ...]:
    """The parts figures that a table file names, without drawings."""
    words = language or table_words()
    named: dict[str, str] = {}
    for one in segments_of(sheet, words):
        heads = _heads_of_sheet(one, settings, words)
        for number, title in (f for row in (*one.above, *one.rows) if (f := figure_named(row.cells, words))):
            named.setdefault(number, title)
        for row in one.rows:
            if words_of_no_part(row.cells, heads) or figure_named(row.cells, words):
                continue
            number = heads.text("figure", row.cells)
            if number and not named.get(number):
                named[number] = heads.text("figure_title", row.cells)
    return tuple(
        Figure(f"{settings.source}/figure/{number}", number, title, settings.source, parts_figure=True)
        for number, title in named.items()
    )


def _heads_of_sheet(sheet: Sheet, settings: PartsSettings, words: TableWords) -> Heads:
    return heads_of_list(sheet.columns, settings.variants, [row.cells for row in sheet.rows], words)


def _repeats_headings(cells: Sequence[str], titles: Sequence[str]) -> bool:
    pairs = [(c, t) for c, t in zip(cells, titles, strict=False) if t]
    return bool(pairs) and all(c.strip().lower() == t.strip().lower() for c, t in pairs)


def _is_heading(row: Row, name: int) -> bool:
    """Whether a row of words only is a heading inside the list ("Screws:") and no second line of a name."""
    cell = row.cells[name]
    return (cell.bold and bool(cell.text) and not sizes_in(cell.text)) or cell.text.endswith(":")


def _belongs(
    raws: list[RawRow], cells: tuple[str, ...], citation: Citation, heads: Heads, language: Lexicon
) -> bool:
    """Whether words below a row were taken in as its second line."""
    if not raws or stands_alone(cells, raws[-1].cells, heads, language):
        return False
    above = raws[-1]
    joined, cited = extended(above.cells, cells, above.citation, citation)
    doubt = above.doubt or second_size(cells, above.cells, heads, language)
    raws[-1] = above._replace(cells=joined, citation=cited, doubt=doubt)
    return True


def _fastener(cells: Sequence[str], heads: Heads, language: Lexicon) -> bool:
    return read_kind(heads.text("name", cells), language) is not None


def columns_told(heads: Heads, place: str) -> list[Problem]:
    """One problem on columns that claim one meaning, or were not used."""
    if not heads.told:
        return []
    do = "Rename the columns where that is wrong; look whether anything in a column not used matters."
    what = f"Columns of the parts list: {' '.join(heads.told)}"
    return [Problem("LB-P15", what, place, do, "doubt" if heads.grave else "note")]


def _line_of_headings(sheet: Sheet) -> int:
    return max(sheet.rows[0].line - 1, 1) if sheet.rows else 1


def _understood(raw: RawRow, heads: Heads, settings: PartsSettings) -> list[PartsRow]:
    """The row's facts: one row, or one per variant where their quantities differ."""
    lex = lexicon(settings.language)
    dotted = _DOTS.match(heads.text("name", raw.cells))
    name = heads.text("name", raw.cells)[dotted.end() if dotted else 0 :]
    indent = len(dotted.group().replace(" ", "")) if dotted else raw.indent
    item = item_of(bare_item(heads.text("item", raw.cells)), raw.figure)
    size = " x ".join(filter(None, (heads.text("size", raw.cells), heads.text("length", raw.cells))))
    further = heads.further(raw.cells)
    remarks = "; ".join(filter(None, (heads.text("remarks", raw.cells), further)))
    described = f"{name}, {size}" if size else name
    kind = read_kind(described, lex)
    if further and (kind is None or not sizes_in(described)):
        described = f"{described}, {further}"
        kind = read_kind(described, lex) or kind
    size_doubt = next((size.doubt for size in sizes_in(described) if size.doubt), "")
    of_kind = raw.doubt or size_doubt or doubt_of_several(described, kind, lex) if kind is not None else ""
    doubt = _doubt(item, name) or of_kind or doubt_of_remarks(remarks, kind, lex)
    told = (heads.text("remarks", raw.cells), further)
    engines = row_engines(raw.figure_title, told, settings.variants)
    base = PartsRow(
        id=_row_id(settings.source, raw.figure, item, heads.text("part_number", raw.cells), name),
        source=settings.source,
        figure=raw.figure,
        item=item,
        part_number=heads.text("part_number", raw.cells),
        name=name,
        quantity=UNSAID,
        kind=kind,
        remarks=remarks,
        indent=indent,
        applies=engines.applies,
        renew=lex.scan(remarks).has("renew") or lex.scan(name).has("renew", "after"),
        citations=(raw.citation,),
        doubt="; ".join(filter(None, (doubt, engines.doubt))),
        unknown=kind is None and is_unknown(described, lex),
    )
    counted = []
    for variant, cell, printed in _quantities(raw, heads, lex):
        quantity, doubt = _of_name(base, printed, lex)
        base = msgspec.structs.replace(base, doubt=base.doubt or doubt)
        counted.append((variant, cell, quantity))
    places = [(variant, cell) for variant, cell, _ in counted if variant not in settings.variants]
    if doubt := doubt_of_places(places, lex):
        words = "; ".join(f"{cell} {variant}" for variant, cell in places if cell)
        return [msgspec.structs.replace(base, quantity=Quantity("unsaid", words=words), doubt=doubt)]
    return _per_variant(base, counted, settings)


def _quantities(raw: RawRow, heads: Heads, lex: Lexicon) -> list[tuple[str, str, Quantity]]:
    """Variant, words and quantity of each quantity column."""
    found = []
    for column, variant in heads.quantities:
        cell = raw.cells[column].strip() if column < len(raw.cells) else ""
        found.append((variant, cell, read_quantity(cell, lex)))
    return found


def _of_name(base: PartsRow, quantity: Quantity, lex: Lexicon) -> tuple[Quantity, str]:
    """The quantity of a fastener, taken back where its own name states another; and the doubt."""
    doubt = doubt_of_name(base.name, quantity, lex) if base.kind is not None else ""
    return (Quantity("unsaid", words=quantity.words), doubt) if doubt else (quantity, "")


def _per_variant(
    base: PartsRow, quantities: list[tuple[str, str, Quantity]], settings: PartsSettings
) -> list[PartsRow]:
    replace = msgspec.structs.replace
    if len({_count(quantity) for _, _, quantity in quantities}) == 1:
        _, cell, quantity = quantities[0]
        return [replace(base, quantity=quantity, doubt=_count_doubt(base, cell, quantity))]
    rows = []
    for variant, cell, quantity in _together(quantities):
        names = [_variant_name(one, settings) for one in variant]
        engines = heading_engines(variant[0], names[0], settings.variants)
        words = ", ".join(variant)
        several = tuple(dict.fromkeys(names)) if len(variant) > 1 else engines.applies.variants
        applies = replace(engines.applies, words=words, variants=several)
        doubt = _count_doubt(base, cell, quantity) or engines.doubt
        identity = f"{base.id}@{_slug(words)}"
        rows.append(replace(base, id=identity, quantity=quantity, applies=applies, doubt=doubt))
    return rows or [replace(base, doubt=base.doubt or "no variant has a quantity")]


def _together(quantities: list[tuple[str, str, Quantity]]) -> list[tuple[list[str], str, Quantity]]:
    """The variants that have one quantity together; one whose heading is a condition stays alone."""
    found: list[tuple[list[str], str, Quantity]] = []
    for variant, cell, quantity in quantities:
        if cell in _NO_COUNT:
            continue
        plain = not limits_by_number(variant)
        same = [
            names
            for names, _, other in found
            if plain and _count(other) == _count(quantity) and not limits_by_number(names[0])
        ]
        if same:
            same[0].append(variant)
        else:
            found.append(([variant], cell, quantity))
    return found


def _count(quantity: Quantity) -> tuple[str, int | None, int | None]:
    return quantity.kind, quantity.low, quantity.high


def _count_doubt(base: PartsRow, cell: str, quantity: Quantity) -> str:
    if quantity.kind == "unsaid" and cell not in _NO_COUNT:
        return base.doubt or f'the quantity "{cell}" is not understood'
    if quantity.kind == "unsaid" and base.kind is not None:
        return base.doubt or "no quantity is printed"
    return base.doubt


def _doubt(item: str, name: str) -> str:
    if not name:
        return "no name is printed"
    if item and not _ITEM.fullmatch(item):
        return f'the item "{item}" is not a single number'
    return ""


def _variant_name(words: str, settings: PartsSettings) -> str:
    low = words.lower()
    return next((v for v in settings.variants if v.lower() in (low, *low.split())), words)


def _row_id(source: str, figure: str, item: str, part_number: str, name: str) -> str:
    anchor = item or _slug(part_number) or _slug(name)
    return f"{source}/row/{figure or '-'}/{anchor}"


def _slug(words: str) -> str:
    return re.sub(r"[^\w]+", "-", words.lower()).strip("-")[:40]


def _unlike(rows: list[PartsRow]) -> list[PartsRow]:
    """The rows with ids told apart: a repeated item (left and right, a second size) gets its occurrence."""
    seen: dict[str, int] = {}
    told = []
    for row in rows:
        seen[row.id] = seen.get(row.id, 0) + 1
        again = seen[row.id]
        told.append(row if again == 1 else msgspec.structs.replace(row, id=f"{row.id}+{again}"))
    return told


def _missing_columns(
    sheet: Sheet, missing: Sequence[str], settings: PartsSettings, words: TableWords
) -> Problem:
    needed = " and ".join(f"{role} ({', '.join(words.known(role)[:3])} ...)" for role in missing)
    there = ", ".join(f'"{column}"' for column in sheet.columns if column) or "none"
    what = f"The table has no column for {needed}. Its columns are: {there}."
    line = _line_of_headings(sheet)
    do = "Rename the columns so that the parts' names and quantities can be told, then read it again."
    return Problem("LB-P02", what, f"{settings.title}, line {line}", do, "stop")
