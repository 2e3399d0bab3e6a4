"""Which parts rows a step or a line of a fastener table means: by item, by its part's figure, by size."""

from collections import defaultdict
from collections.abc import Iterable

from msgspec import Struct

from lastbolt.planning.names import stems
from lastbolt.words.machine import Machine, Mention, PartsRow, Procedure, TableRow
from lastbolt.words.quantity import Kind


class Meant(Struct, frozen=True):
    """The rows, and whether the source itself names them (a callout, an item) or only part and size do."""

    rows: tuple[PartsRow, ...] = ()
    named: bool = False


class RowsMeant:
    """The parts rows of a machine, ready to be looked up."""

    def __init__(self, machine: Machine) -> None:
        self.rows = {row.id: row for row in machine.rows}
        self.by_figure: dict[str, list[PartsRow]] = defaultdict(list)
        self.by_item: dict[tuple[str, str], list[PartsRow]] = defaultdict(list)
        self._titled: dict[frozenset[str], set[str]] = defaultdict(set)
        self._figure: dict[str, str] = {}
        self._holding: dict[frozenset[str], set[str]] = defaultdict(set)
        for row in machine.rows:
            figure = short(row.figure)
            self.by_figure[figure].append(row)
            self.by_item[figure, row.item].append(row)
            if row.kind is None and (key := stems(row.name)):
                self._holding[frozenset(key)].add(figure)
        for figure_ in machine.figures:
            if figure_.parts_figure or figure_.number in self.by_figure:
                for piece in figure_.title.replace(" and ", ";").replace(",", ";").split(";"):
                    if key := stems(piece.partition("(")[0]):
                        self._titled[frozenset(key)].add(figure_.number)

    def of_mention(self, mention: Mention, procedure: Procedure) -> Meant:
        """The rows of what a step names; without one, the one size in its part's figure."""
        named = tuple(self.rows[row] for row in mention.rows if row in self.rows)
        if named:
            return Meant(named, True)
        figure = self.figure_of(procedure)
        if not figure or mention.kind is None or mention.kind.thread is None:
            return Meant()
        same = [row for row in self.by_figure[figure] if same_size(row.kind, mention.kind)]
        return Meant(tuple(same)) if len({row.item for row in same}) == 1 else Meant()

    def figure_of(self, procedure: Procedure) -> str:
        """The one parts figure that bears the name of what the procedure is done to, or holds it as a row."""
        if procedure.id not in self._figure:
            self._figure[procedure.id] = self._find_figure(procedure)
        return self._figure[procedure.id]

    def _find_figure(self, procedure: Procedure) -> str:
        for index in (self._titled, self._holding):
            found = {figure for part in procedure.parts for figure in index.get(frozenset(stems(part)), ())}
            if found:
                return found.pop() if len(found) == 1 else ""
        return ""

    def of_table(self, table: Iterable[TableRow]) -> dict[str, tuple[PartsRow, ...]]:
        """The rows of every line of one table: by the items it names, else by size in the one figure."""
        lines = list(table)
        figures = {line.parts_figure for line in lines if line.parts_figure}
        if len(figures) > 1:
            return {}
        if all(line.item for line in lines):
            fitting = figures or {f for f in self.by_figure if all(self._item_fits(f, one) for one in lines)}
            figure = fitting.pop() if len(fitting) == 1 else ""
            return {one.id: self._fasteners(figure, one) for one in lines} if figure else {}
        fitting = figures or {f for f in self.by_figure if all(self._sized(f, one) for one in lines)}
        figure = fitting.pop() if len(fitting) == 1 else ""
        return {one.id: self._sized(figure, one) for one in lines} if figure else {}

    def _fasteners(self, figure: str, line: TableRow) -> tuple[PartsRow, ...]:
        return tuple(row for row in self.by_item.get((figure, line.item), ()) if row.kind is not None)

    def _item_fits(self, figure: str, line: TableRow) -> bool:
        return any(one_thread(row.kind, line.kind) for row in self._fasteners(figure, line))

    def _sized(self, figure: str, line: TableRow) -> tuple[PartsRow, ...]:
        same = tuple(row for row in self.by_figure.get(figure, ()) if same_size(row.kind, line.kind))
        return same if len({row.item for row in same}) == 1 else ()


def short(figure: str) -> str:
    """The number of a parts figure, whether a row gives its number or its id."""
    return figure.rpartition("/")[2]


def same_size(a: Kind | None, b: Kind | None) -> bool:
    """Whether two kinds are one family, thread and length, all of them known."""
    return a is not None and b is not None and a.matches(b) != "no" and _size(a) == _size(b)


def _size(kind: Kind) -> tuple[str | None, float | None]:
    return kind.thread, kind.length_mm


def one_thread(a: Kind | None, b: Kind | None) -> bool:
    """Whether two kinds are one family on one thread, whatever their lengths."""
    return a is not None and b is not None and a.thread == b.thread and family(a) == family(b)


def family(kind: Kind) -> str | None:
    """Bolt and screw are one family."""
    return "screw" if kind.what in ("bolt", "screw") else kind.what


def sizes_differ(a: Kind | None, b: Kind | None) -> bool:
    """Whether two kinds of one family surely differ in size; a pitch that one leaves out says nothing."""
    if a is None or b is None or family(a) != family(b):
        return False
    threads = [one.thread for one in (a, b) if one.thread is not None]
    if len(threads) == 2 and threads[0] != threads[1]:
        shorter, longer = sorted(threads, key=len)
        if not longer.startswith((f"{shorter}x", f"{shorter}-")):
            return True
    lengths = [one.length_mm for one in (a, b) if one.length_mm is not None]
    return len(lengths) == 2 and abs(lengths[0] - lengths[1]) > 0.5
