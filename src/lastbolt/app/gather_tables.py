"""What a manual's own table of fasteners says of a parts row: how many, and at which positions.

Its positions are places of the joint when every one of them is a label of the walk, their number is the
quantity that it prints, no thread contradicts, and the row's figure names a part of the joint.
"""

import re
from collections.abc import Iterable

from msgspec import Struct
from msgspec.structs import replace

from lastbolt.app.joint_names import HowNamed
from lastbolt.tally.layout import fits, whole_kind
from lastbolt.words.citation import PdfPlace
from lastbolt.words.evidence import EvidencePlace, Printed
from lastbolt.words.machine import Machine, PartsRow, TableRow
from lastbolt.words.quantity import Kind

_RUN = re.compile(r"(\d+)(?:\s*(?:to|-|–|\.\.)\s*(\d+))?")
_LEADING = re.compile(r"\s*(?:positions?\b|pos\.?|and\b|to\b|&|,(?=\s*\d)|\d+|-|–|\.\.|\s)+", re.IGNORECASE)
MOST_POSITIONS = 500


class TableSays(Struct, frozen=True):
    """One line of a table for a parts row; `places` are filled when its positions are places of the joint."""

    row: TableRow
    printed: Printed
    places: tuple[str, ...] = ()


class Tables:
    """The model's tables of fasteners, asked row by row."""

    def __init__(
        self, machine: Machine, places: tuple[EvidencePlace, ...], naming: dict[str, HowNamed]
    ) -> None:
        self.machine = machine
        self.naming = naming
        self.sources = {source.id: source for source in machine.sources}
        self.by_label: dict[str, list[EvidencePlace]] = {}
        for place in places:
            self.by_label.setdefault(place.label, []).append(place)

    def say(self, rows: Iterable[PartsRow], figure: str) -> tuple[TableSays, ...]:
        """What the tables say of a parts row (in each of its witnesses) of the figure with this number."""
        rows = tuple(rows)
        return tuple(
            TableSays(line, self._printed(line, rows[0].kind), self._places(line, rows[0]))
            for line in self.machine.bolt_rows
            if line.item and line.item == rows[0].item and line.parts_figure in ("", figure)
            and (line.parts_figure or self._same_size(line, rows[0]))
        )  # fmt: skip

    def _same_size(self, line: TableRow, row: PartsRow) -> bool:
        """Without a figure's number an item alone says little: the size must agree too."""
        return line.kind is not None and row.kind is not None and line.kind.matches(row.kind) == "yes"

    def _printed(self, line: TableRow, kind: Kind | None) -> Printed:
        source = self.sources.get(line.source)
        title = source.title if source else line.source
        citation = line.citations[0] if line.citations else None
        page = citation.place.pdf_page if citation and isinstance(citation.place, PdfPlace) else line.table
        other = line.kind if line.kind and kind and line.kind.matches(kind) == "no" else None
        return Printed(
            line.quantity,
            line.table,
            source.lineage if source else line.source,
            f"{title}, page or figure {page}",
            replace(citation, title=title) if citation else None,
            kind=other,
        )

    def _places(self, line: TableRow, row: PartsRow) -> tuple[str, ...]:
        if self.naming.get(row.figure, "no") == "no":
            return ()
        labels = positions(line.positions)
        count = line.quantity
        found = [self.by_label.get(label, []) for label in labels]
        if count.low != count.high or count.low != len(labels) or any(len(same) != 1 for same in found):
            return ()
        places = [same[0] for same in found]
        kind = whole_kind(row.kind or Kind())
        return tuple(place.id for place in places) if all(fits(place, kind) for place in places) else ()


def positions(words: str) -> tuple[str, ...]:
    """The numbers that a cell of positions begins with.

    >>> positions("14 and 15; position 14 goes through the dowel"), positions("1 to 4")
    (('14', '15'), ('1', '2', '3', '4'))
    """
    leading = _LEADING.match(words)
    found: list[str] = []
    for first, last in _RUN.findall(leading[0] if leading else ""):
        low, high = int(first), int(last or first)
        if high - low > MOST_POSITIONS:
            return ()
        found += [str(number) for number in range(low, high + 1)]
    return tuple(dict.fromkeys(found))
