"""Rows of words only below a parts row: its second line, or a row of their own whose numbers are missing."""

from collections.abc import Sequence

import msgspec

from lastbolt.reading.heads import Heads
from lastbolt.reading.lexicon import Lexicon
from lastbolt.reading.table_shape import gone_on
from lastbolt.reading.table_words import table_words
from lastbolt.reading.tokens import read_kind, sizes_in
from lastbolt.words.citation import Citation, PdfPlace

_Size = tuple[str | None, float | None]
"""Thread and length."""


def continues(cells: Sequence[str], heads: Heads) -> bool:
    """Whether the row has words but no item, part number or quantity of its own."""
    own = [heads.text("item", cells), heads.text("part_number", cells)]
    own += [cells[i].strip() for i, _ in heads.quantities if i < len(cells)]
    return not any(own) and any(cell.strip() for cell in cells)


def stands_alone(cells: Sequence[str], above: Sequence[str], heads: Heads, language: Lexicon) -> bool:
    """Whether words below a row name a fastener of their own, another than the row above names.

    "SCREW M8x70" below "SCREW M6x45" does; "M8x70" below "SCREW", and "with nut M8" do not.
    """
    words, name = _described(cells, heads), _described(above, heads)
    first = words.split(" ", 1)[0].lower().strip(".,;:(")
    if not words or first in table_words().joining or name.rstrip().endswith((",", "-", "(")):
        return False
    kind, before = read_kind(words, language), read_kind(name, language)
    if kind is None:
        return False
    opens = any(noun.first == 0 for noun in language.scan(words).of("fasteners"))
    if opens and before is not None and kind.what not in (None, before.what):
        return True
    return _others(_sizes(words), _sizes(name))


def second_size(cells: Sequence[str], above: Sequence[str], heads: Heads, language: Lexicon) -> str:
    """A doubt where the second line of a fastener's row brings another size than its first; else ""."""
    words, name = _described(cells, heads), _described(above, heads)
    if read_kind(name, language) is not None and _others(_sizes(words), _sizes(name)):
        return f'its second line says another size: "{words}"'
    return ""


def extended(
    cells: Sequence[str], more: Sequence[str], said: Citation, again: Citation
) -> tuple[tuple[str, ...], Citation]:
    """The row's cells with the words of its second line, and one citation with the box round both."""
    joined = tuple(gone_on(a, b) for a, b in zip(cells, more, strict=False))
    place, below = said.place, again.place
    if isinstance(place, PdfPlace) and isinstance(below, PdfPlace) and place.box and below.box:
        a, b = place.box, below.box
        box = (min(a[0], b[0]), min(a[1], b[1]), max(a[2], b[2]), max(a[3], b[3]))
        place = msgspec.structs.replace(place, box=box)
    return joined, Citation(said.source, place, f"{said.words} {again.words}")


def _described(cells: Sequence[str], heads: Heads) -> str:
    parts = (heads.text("name", cells), heads.text("size", cells), heads.text("length", cells))
    return " ".join(filter(None, (*parts, heads.further(cells)))).strip()


def _others(sizes: set[_Size], known: set[_Size]) -> bool:
    """Whether one of the sizes is none of the known ones, told in full or in part."""
    alike = {
        one
        for one in sizes
        for other in known
        if one[0] == other[0] and (one[1] or other[1]) == (other[1] or one[1])
    }
    return bool(known) and bool(sizes - alike)


def _sizes(words: str) -> set[_Size]:
    return {(size.thread, size.length_mm) for size in sizes_in(words)}
