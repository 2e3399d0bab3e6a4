"""Fasteners that the step which parts the joint names by size alone, without a row of the parts list.

They are the only row of that size, when there is but one; the row of that size that is tied to the joint; a
line of the manual's own, when no list has that size; else somebody must say which of the rows is meant.
"""

from collections.abc import Iterable

from msgspec import Struct
from msgspec.structs import replace

from lastbolt.app.gather_rows import Reasoned, Rows, taken_row
from lastbolt.app.removals import Removal, removal_words, tallied
from lastbolt.tally.layout import surely_one_size, whole_kind
from lastbolt.tally.unused import row_of_step_not_said
from lastbolt.words.evidence import Line, Printed
from lastbolt.words.machine import Machine, PartsRow
from lastbolt.words.problem import Problem
from lastbolt.words.quantity import UNSAID, Kind

OWN_SIZE = "taken as wholly this joint's; no parts list has that size"


class SizedSteps(Struct, frozen=True):
    """The removals led to lines, the rows with the manual's own lines, and what could not be led."""

    removed: tuple[Removal, ...]
    rows: Rows
    problems: tuple[Problem, ...]


def led_by_size(machine: Machine, removed: Iterable[Removal], goals: tuple[str, ...]) -> tuple[Removal, ...]:
    """The removals, those of the goal that name a size led to its row where only one row has it."""
    number = {figure.id: figure.number for figure in machine.figures}
    elsewhere = {
        row for procedure in machine.procedures if procedure.id not in goals and procedure.deed == "remove"
        for step in procedure.steps for mention in step.mentions for row in mention.rows
    }  # fmt: skip
    led = []
    for removal in removed:
        same = _rows_of_size(machine, removal)
        led.append(removal)
        if len({(number.get(row.figure) or row.figure, row.item or row.id) for row in same}) == 1:
            counts = {row.quantity.high for row in same}
            low = removal.mention.quantity.low
            whole = (low is None or counts == {low}) and not any(row.id in elsewhere for row in same)
            led[-1] = replace(
                removal, rows=tuple(row.id for row in same), how="wholly" if whole else "partly", sure=True,
                why="no other row has that size",
            )  # fmt: skip
    return tuple(led)


def _row_words(machine: Machine, ids: list[str]) -> list[str]:
    """ "figure 7 item 3", each row once however many sources have it."""
    number = {figure.id: figure.number for figure in machine.figures}
    rows = [row for row in machine.rows if row.id in ids]
    told = [(number.get(row.figure) or row.figure.rsplit("/", 1)[-1], row.item or row.name) for row in rows]
    return list(dict.fromkeys(f"figure {figure} item {item}" for figure, item in told))


def _rows_of_size(machine: Machine, removal: Removal) -> list[PartsRow]:
    """The rows of just the size that a step of the goal names without a row."""
    kind = removal.mention.kind
    if removal.rows or not removal.parts or kind is None or kind.thread is None or not _counts(kind):
        return []
    return [row for row in machine.rows if tallied(row) and _one_size(row.kind, kind)]


def with_sized_steps(machine: Machine | None, removed: tuple[Removal, ...], rows: Rows) -> SizedSteps:
    """Every step of the goal that takes out fasteners of a said size leads to a line, or is told."""
    if machine is None:
        return SizedSteps(removed, rows, ())
    led: list[Removal] = []
    problems: list[Problem] = []
    for removal in removed:
        kind = removal.mention.kind
        if removal.rows or not removal.parts or kind is None or kind.thread is None or not _counts(kind):
            led.append(removal)
            continue
        same = [row.id for row in _rows_of_size(machine, removal)]
        own = {line.id for line in rows.lines if line.belongs != "maybe"}
        lines = {rows.line_of[row]: row for row in same if rows.line_of.get(row) in own}
        if len(lines) == 1:
            led.append(replace(removal, rows=tuple(lines.values())))
        elif same:
            named = _row_words(machine, same)
            problems.append(row_of_step_not_said(removal_words(removal), kind.words(), named))
            led.append(removal)
        else:
            line = _line_of_manual(machine, removal, kind, len(rows.lines))
            rows = _with_line(rows, line)
            unsaid = replace(removal.mention, quantity=UNSAID)
            led.append(replace(removal, rows=(line.id,), mention=unsaid))
    return SizedSteps(tuple(led), rows, tuple(problems))


def _counts(kind: Kind) -> bool:
    return kind.what not in ("stud", "dowel")


def _one_size(row: Kind | None, said: Kind) -> bool:
    return row is not None and surely_one_size(whole_kind(row), whole_kind(said))


def _line_of_manual(machine: Machine, removal: Removal, kind: Kind, number: int) -> Line:
    citation = removal.step.citations[0] if removal.step.citations else None
    source = next((one for one in machine.sources if citation and one.id == citation.source), None)
    title, lineage = (source.title, source.lineage) if source else ("manual", "manual")
    shown = replace(citation, title=title) if citation else None
    where = removal_words(removal)
    printed = Printed(removal.mention.quantity, title, lineage, f"{title}, {where}", shown)
    name = f"manual/{removal.step.id}/{number}"
    return Line(name, kind, (printed,), "wholly", where, words=where, citation=shown)


def _with_line(rows: Rows, line: Line) -> Rows:
    return replace(
        rows,
        lines=(*rows.lines, line),
        line_of={**rows.line_of, line.id: line.id},
        taken_as=(*rows.taken_as, taken_row(Reasoned(line, OWN_SIZE), {})),
    )
