"""The rows of a table of limits over all its pages: headings left out, split rows mended, groups named."""

from collections.abc import Iterable, Sequence
from typing import NamedTuple

from lastbolt.reading.limit_columns import Column
from lastbolt.reading.limit_words import LimitWords
from lastbolt.reading.table_shape import gone_on
from lastbolt.words.citation import Box

_OPEN_ENDS = (",", "-", "–", "/", "(", "&", "+")


class Place(NamedTuple):
    """Where a row stands."""

    pdf_page: int
    box: Box


class RawRow(NamedTuple):
    """A row as printed."""

    cells: tuple[str, ...]
    place: Place
    bold: bool = False


class LimitRow(NamedTuple):
    """A whole row: its cells, what it is for (its group's heading and its own name), and where it stands."""

    cells: tuple[str, ...]
    group: str
    name: str
    places: tuple[Place, ...]


def whole_rows(rows: Iterable[RawRow], columns: Sequence[Column], words: LimitWords) -> list[LimitRow]:
    """The rows with a name over two lines, a range over two lines and merged cells put together."""
    return _Mender(columns, words).run(list(rows))


class _Mender:
    def __init__(self, columns: Sequence[Column], words: LimitWords) -> None:
        self.words = words
        self.names = [at for at, column in enumerate(columns) if column.role == "name"]
        self.values = [at for at, column in enumerate(columns) if column.role in ("standard", "limit")]
        self.made: list[LimitRow] = []
        self.group = ""
        self.waiting: RawRow | None = None
        """A row with a name and no values: the first line of the next, or a heading."""

    def run(self, rows: list[RawRow]) -> list[LimitRow]:
        for at, row in enumerate(rows):
            following = rows[at + 1] if at + 1 < len(rows) else None
            if self._valued(row):
                self._take(row)
            elif self._named(row):
                self._name_only(row, following)
        if self.waiting is not None:
            self._end_waiting()
        return self.made

    def _valued(self, row: RawRow) -> bool:
        return any(row.cells[at].strip() for at in self.values)

    def _named(self, row: RawRow) -> str:
        return ", ".join(row.cells[at].strip() for at in self.names if row.cells[at].strip())

    def _take(self, row: RawRow) -> None:
        name = self._named(row)
        if not name and self.waiting is None and self.made and self._goes_on(row):
            self._extend(row)
            return
        places = [row.place]
        if self.waiting is not None:
            waiting, self.waiting = self.waiting, None
            if not name or name[:1].islower() or self._is_open(self._named(waiting)):
                name = gone_on(self._named(waiting), name)
                places.insert(0, waiting.place)
            else:
                self.group = self._named(waiting)
        if len(self.names) > 1 and self.made and not row.cells[self.names[0]].strip():
            first = self.made[-1].cells[self.names[0]]
            row = row._replace(
                cells=tuple(first if at == self.names[0] else c for at, c in enumerate(row.cells))
            )
            name = self._named(row)
        self.made.append(LimitRow(row.cells, self.group, name, tuple(places)))

    def _goes_on(self, row: RawRow) -> bool:
        """Whether a row without a name holds the rest of the values above it: "54.98 -" over "55.00"."""
        above = self.made[-1].cells
        for at in self.values:
            over, here = above[at].strip(), row.cells[at].strip()
            if here and (over.endswith(_OPEN_ENDS) or here.startswith(("-", "–", "(")) or not over):
                continue
            if here:
                return False
        return True

    def _extend(self, row: RawRow) -> None:
        above = self.made[-1]
        cells = tuple(gone_on(a, b) for a, b in zip(above.cells, row.cells, strict=True))
        self.made[-1] = above._replace(cells=cells, places=(*above.places, row.place))

    def _name_only(self, row: RawRow, following: RawRow | None) -> None:
        name = self._named(row)
        last = self.made[-1] if self.made and self.waiting is None else None
        begins_small = name[:1].islower() or name.startswith("(")
        if last is not None and not row.bold and (begins_small or self._is_open(last.name)):
            cells = tuple(
                gone_on(a, b) if at in self.names else a
                for at, (a, b) in enumerate(zip(last.cells, row.cells, strict=True))
            )
            self.made[-1] = last._replace(
                cells=cells, name=gone_on(last.name, name), places=(*last.places, row.place)
            )
            return
        if self.waiting is not None:
            if begins_small or self._is_open(self._named(self.waiting)):
                cells = tuple(gone_on(a, b) for a, b in zip(self.waiting.cells, row.cells, strict=True))
                self.waiting = self.waiting._replace(cells=cells)
                return
            self._end_waiting()
        self.waiting = row

    def _end_waiting(self) -> None:
        assert self.waiting is not None
        self.group, self.waiting = self._named(self.waiting), None

    def _is_open(self, name: str) -> bool:
        """Whether a name is not at its end: "Clearance between piston and"."""
        last = name.rpartition(" ")[2].lower()
        if name.rstrip().endswith(_OPEN_ENDS) or name.count("(") > name.count(")"):
            return True
        return self.words.among(last, "measures", "of") or self.words.among(last, "numbers", "both")
