"""Which parts row a fastener of a step is, when its callout belongs to the manual's own drawing.

A step says "remove the screw M8 x 90 (8)", and 8 is a number in the manual's figure, not in the parts list.
The row is found by its full size, in the one parts figure whose title names what the procedure works on.
Anything less than exactly one such row ties nothing.
"""

from collections import defaultdict

from msgspec.structs import replace

from lastbolt.planning.names import stems
from lastbolt.words.machine import Machine, Mention, PartsRow, Procedure, Step
from lastbolt.words.quantity import Kind


def with_rows_tied(machine: Machine) -> Machine:
    """The machine with the rows filled in where exactly one fits."""
    finder = _Finder(machine)
    return replace(machine, procedures=tuple(_procedure(p, finder) for p in machine.procedures))


def _procedure(procedure: Procedure, finder: "_Finder") -> Procedure:
    about = frozenset(word for name in (*procedure.parts, procedure.title) for word in stems(name))
    return replace(procedure, steps=tuple(_step(step, about, finder) for step in procedure.steps))


def _step(step: Step, about: frozenset[str], finder: "_Finder") -> Step:
    if not any(_wants_row(mention) for mention in step.mentions):
        return step
    beside = frozenset(word for mention in step.mentions for word in stems(mention.name))
    mentions = tuple(
        replace(mention, rows=finder.rows(mention.kind, about | beside))
        if mention.kind is not None and _wants_row(mention)
        else mention
        for mention in step.mentions
    )
    return replace(step, mentions=mentions)


def _wants_row(mention: Mention) -> bool:
    kind = mention.kind
    return not mention.rows and kind is not None and kind.thread is not None and kind.what != "stud"


class _Finder:
    def __init__(self, machine: Machine) -> None:
        figures = [figure for figure in machine.figures if figure.parts_figure]
        self.titles = {key: stems(figure.title) for figure in figures for key in (figure.id, figure.number)}
        self.by_thread: dict[str, list[PartsRow]] = defaultdict(list)
        self.by_kind: dict[Kind, list[PartsRow]] = {}
        for row in machine.rows:
            if row.kind is not None and row.kind.thread:
                self.by_thread[row.kind.thread].append(row)

    def rows(self, kind: Kind, about: frozenset[str]) -> tuple[str, ...]:
        """The ids of the one row (in each of its witnesses) that it is, or nothing."""
        fitting = self._fitting(kind)
        best = max((self._shared(row, about) for row in fitting), default=0)
        named = [row for row in fitting if best and self._shared(row, about) == best]
        items = {(row.figure.rpartition("/")[2], row.item) for row in named}
        return tuple(row.id for row in named) if len(items) == 1 else ()

    def _fitting(self, kind: Kind) -> list[PartsRow]:
        """The rows of every figure that it can be."""
        found = self.by_kind.get(kind)
        if found is None:
            alike = [(row, row.kind) for row in self.by_thread[kind.thread or ""] if row.kind is not None]
            if kind.what == "nut":
                found = [row for row, its in alike if its.what == "nut"]
            else:
                found = [row for row, its in alike if its.matches(kind) == "yes"]
            self.by_kind[kind] = found
        return found

    def _shared(self, row: PartsRow, about: frozenset[str]) -> int:
        title = self.titles.get(row.figure) or self.titles.get(row.figure.rpartition("/")[2], ())
        return len(set(title) & about)
