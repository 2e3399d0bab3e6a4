"""Parts lists that no heading and no rule tells: rows with a part number, words and a count."""

from collections.abc import Sequence
from itertools import pairwise

from lastbolt.reading.gutters import free_strips
from lastbolt.reading.leaders import without_leaders
from lastbolt.reading.parts_contents import NUMBER, roles_in
from lastbolt.reading.sizes import sizes_in
from lastbolt.reading.table_shape import Row, Table, box_around, cell_of, inside, split_at, text_rows
from lastbolt.reading.table_words import Heading, TableWords, table_words
from lastbolt.words.citation import Box
from lastbolt.words.page import PageLayout, Word

_FEWEST = 3
_ROW_GAP = 2.4
_BETWEEN = 1
"""So many lines without a number may stand between two rows: second lines of names."""
_SPACE_EM = 0.45
"""Words of one cell stand no further apart."""
ROLES = ("item", "part_number", "name", "quantity", "remarks")
TAKEN = "No headings tell the columns: they were taken by what stands in them."


def loose_parts(page: PageLayout, without: Sequence[Box], language: TableWords | None = None) -> list[Table]:
    """The lists among the page's words outside of some boxes."""
    language = language or table_words()
    if sum(NUMBER.fullmatch(word.text.strip("()[],;:.")) is not None for word in page.words) < _FEWEST:
        return []
    words = without_leaders(page.words)
    rows = text_rows(word for word in words if not any(inside(word, box) for box in without))
    found: list[Table] = []
    for first, last in _runs(rows):
        block = rows[first : last + 1]
        above = rows[first - 1] if first and _near(rows[first - 1], rows[first]) else None
        below = (
            rows[last + 1 : last + 2] if last + 1 < len(rows) and _near(rows[last], rows[last + 1]) else []
        )
        found += _tables(page, [*block, *below], above, language)
    return found


def _runs(rows: Sequence[Sequence[Word]]) -> list[tuple[int, int]]:
    """From which row to which a list goes."""
    found: list[tuple[int, int]] = []
    like = [at for at, row in enumerate(rows) if _is_row(row)]
    for at in like:
        if (
            found
            and at - found[-1][1] <= _BETWEEN + 1
            and all(_near(a, b) for a, b in pairwise(rows[found[-1][1] : at + 1]))
        ):
            found[-1] = (found[-1][0], at)
        else:
            found.append((at, at))
    return [(a, b) for a, b in found if sum(a <= at <= b for at in like) >= _FEWEST]


def _near(above: Sequence[Word], below: Sequence[Word]) -> bool:
    return below[0].top - above[0].bottom <= _ROW_GAP * (above[0].bottom - above[0].top)


def _is_row(row: Sequence[Word]) -> bool:
    """Whether a row has a part's number, a word and one number more."""
    numbers = [w for w in row if _numbered(w.text)]
    if not numbers or not any(sum(c.isalpha() for c in w.text) > 2 for w in row if w not in numbers):
        return False
    return (
        len(numbers) > 1 or any(c.isdigit() for w in row if w not in numbers for c in w.text) or len(row) > 2
    )


def _numbered(text: str) -> bool:
    bare = text.strip("()[],;:.")
    return NUMBER.fullmatch(bare) is not None and not any(size.thread for size in sizes_in(bare))


def _tables(
    page: PageLayout, rows: list[list[Word]], above: list[Word] | None, language: TableWords
) -> list[Table]:
    """The block as one list, or as two side by side."""
    em = max(word.size_pt for row in rows for word in row) / page.width_pt
    bounds = _without_loose_ends(rows, free_strips(rows, em), em)
    cells = [split_at(row, bounds) for row in rows]
    sides = [(0, len(bounds) + 1)]
    numbered = [
        at
        for at in range(len(bounds) + 1)
        if sum(bool(row[at]) and _numbered(cell_of(row[at]).text) for row in cells) >= _FEWEST
    ]
    half, odd = divmod(len(bounds) + 1, 2)
    if len(numbered) == 2 and not odd and numbered[1] - numbered[0] == half:
        sides = [(0, half), (half, 2 * half)]
    found = []
    for begin, end in sides:
        mine = [row[begin:end] for row in cells if any(row[begin:end])]
        heads = split_at(above, bounds)[begin:end] if above is not None else [[] for _ in range(begin, end)]
        table = _table(page, mine, heads, language)
        if table is not None:
            found.append(table)
    return found


def _without_loose_ends(rows: Sequence[Sequence[Word]], bounds: list[float], em: float) -> list[float]:
    """The strips without those that part the words of one cell: behind them little stands, and close."""
    kept = []
    for at, bound in enumerate(bounds):
        high = bounds[at + 1] if at + 1 < len(bounds) else 2.0
        gaps = []
        for row in rows:
            left = [w.right for w in row if w.right <= bound]
            right = [w.left for w in row if bound <= w.left < high]
            if right:
                gaps.append(min(right) - max(left, default=-1.0))
        if min(gaps, default=1.0) > _SPACE_EM * em or 2 * len(gaps) > len(rows):
            kept.append(bound)
    return kept


def _table(
    page: PageLayout, rows: list[list[list[Word]]], heads: list[list[Word]], language: TableWords
) -> Table | None:
    said = [[cell_of(cell).text for cell in row] for row in rows]
    titles = tuple(cell_of(head).text for head in heads)
    told = [language.heading(title) if title else None for title in titles]
    if sum(one is not None for one in told) < 2:
        told = [None for _ in titles]
    if any(one is not None and one.role in ("torque", "limit", "tool", "work") for one in told):
        return None
    known = {one.role: at for at, one in enumerate(told) if one is not None and one.role in ROLES}
    roles = (roles_in(said, known) if known else None) or roles_in(said)
    if roles is None or "part_number" not in roles:
        return None
    headings = tuple(
        next((Heading(r, "") for r, c in roles.items() if c == at), None) for at in range(len(heads))
    )
    last = max(at for at, row in enumerate(said) if row[roles["part_number"]])
    rows = [row for at, row in enumerate(rows) if at <= last or _only_name(said[at], roles["name"])]
    made = tuple(
        Row(tuple(cell_of(cell) for cell in row), box_around([w for cell in row for w in cell]))
        for row in rows
    )
    box = box_around([w for row in rows for cell in row for w in cell])
    names = titles if known else tuple("" for _ in titles)
    return Table(page.pdf_page, box, False, names, headings, made, told=TAKEN)


def _only_name(cells: Sequence[str], name: int) -> bool:
    return (
        bool(cells[name])
        and cells[name][:1].islower()
        and not any(c for at, c in enumerate(cells) if at != name)
    )
