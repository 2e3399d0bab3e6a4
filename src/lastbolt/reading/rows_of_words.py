"""Lines of a table file that are words and no row: titles of figures over their rows, remarks on the list."""

from collections.abc import Iterator, Sequence

from lastbolt.reading.beside_lists import speaks_of_a_fastener
from lastbolt.reading.heads import Heads
from lastbolt.reading.lexicon import Lexicon
from lastbolt.reading.table_words import TableWords
from lastbolt.words.citation import CellPlace, Citation
from lastbolt.words.sheet import Sheet, SheetRow

_FEWEST = 3
"""So many words in the one filled cell of a row are no name of a figure, item or group."""
_WORDS_OF_ROWS = ("name", "size", "length", "remarks")


def figure_named(cells: Sequence[str], words: TableWords) -> tuple[str, str] | None:
    """The number and title of a figure in a line that holds nothing else: "Fig. 4-1 Casing"."""
    said = list(dict.fromkeys(cell.strip() for cell in cells if cell.strip()))
    parts = " ".join(said).split()
    if len(said) > _FEWEST or len(parts) < len(("figure", "number")):
        return None
    if parts[0].lower().rstrip(".") not in words.figure_lead:
        return None
    number = parts[1].strip(".:,;()—–-")
    if not any(c.isdigit() for c in number) or any(cell.isdecimal() for cell in said[1:]):
        return None
    return number, " ".join(parts[2:]).lstrip(".:—–- ")


def figure_above(sheet: Sheet, words: TableWords) -> tuple[str, str] | None:
    """The figure whose title stands last before the headings."""
    named = [found for row in sheet.above if (found := figure_named(row.cells, words))]
    return named[-1] if named else None


def words_of_no_part(cells: Sequence[str], heads: Heads) -> bool:
    """Whether a row is one cell of words, and not where a part's name, size or remark stands."""
    filled = [at for at, cell in enumerate(cells) if cell.strip()]
    if len(filled) != 1 or len(cells[filled[0]].split()) < _FEWEST:
        return False
    return filled[0] not in {at for role, at in heads.roles.items() if role in _WORDS_OF_ROWS}


def lost_above(sheet: Sheet, source: str, language: Lexicon) -> Iterator[tuple[SheetRow, Citation]]:
    """The lines before the headings that name a fastener with its size or count."""
    for row in sheet.above:
        said = " | ".join(cell for cell in row.cells if cell.strip())
        if speaks_of_a_fastener(said, language):
            yield row, Citation(source, CellPlace(row.line, ""), said)
