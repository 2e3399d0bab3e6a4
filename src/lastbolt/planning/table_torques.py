"""Torques that a line of the way back leaves to a table ("to the torque given in 8.1"), put beside it."""

from collections.abc import Iterable, Sequence

from msgspec.structs import replace

from lastbolt.planning.names import any_of, words
from lastbolt.planning.pairs import TOGETHER
from lastbolt.planning.refit import SizeOf, row_fits
from lastbolt.words.back import BackLine
from lastbolt.words.machine import Machine, Mention, Procedure, TorqueRow, TorqueValue
from lastbolt.words.plan import Line

BY_NAME = ("its name", "its joint and size")
"""How surely a row must be for what a line fits: by its name, and not by its size alone."""


def with_table_torques(lines: Iterable[BackLine], machine: Machine, size_of: SizeOf) -> list[BackLine]:
    """The lines, each that fits fasteners and has no torque with those of the tables that name them.

    A proposed line has the maker's general torque of its size, where no row names its fastener. Where the
    section that says "reverse of removal" gives a torque itself, its reversed lines need none.
    """
    procedures = {one.id: one for one in machine.procedures}
    lines = list(lines)
    with_torque = {one.line.procedure for one in lines if one.how == "told" and one.line.torques}
    found, under = [], ""
    for one in lines:
        under = one.line.procedure if one.how == "told" else under
        if one.how == "reversed" and under in with_torque:
            found.append(replace(one, line=replace(one.line, torques=())))
        else:
            found.append(_told(one, procedures.get(one.line.procedure), machine, size_of))
    return found


def _told(one: BackLine, procedure: Procedure | None, machine: Machine, size_of: SizeOf) -> BackLine:
    line = one.line
    if procedure is None or line.kind != "step" or line.torques or not _fits(one):
        return one
    found = _rows(line, procedure, machine.torques, size_of)
    if not found and one.how != "told":
        found = [row for m in _fitted(line) for row in machine.torques if _general(row, m)]
    if not found:
        return one
    values = dict.fromkeys(_cited(row) for row in found)
    return replace(one, line=replace(line, torques=tuple(values)))


def _fits(one: BackLine) -> bool:
    """Whether it tightens something: a told line says so, one read from the removal always does."""
    return one.how != "told" or bool(any_of(one.line.words, words()["refit"]["tightening"]))


def _fitted(line: Line) -> list[Mention]:
    return [mention for mention in line.mentions if mention.deed in TOGETHER]


def _rows(line: Line, procedure: Procedure, torques: Sequence[TorqueRow], size_of: SizeOf) -> list[TorqueRow]:
    return [
        row
        for mention in _fitted(line)
        for row in torques
        if row_fits(row, mention, procedure, size_of) in BY_NAME
    ]


def _general(row: TorqueRow, mention: Mention) -> bool:
    """Whether a row is the maker's general torque of the mention's size: it names the size alone."""
    thread = mention.kind.thread if mention.kind else None
    return bool(thread) and row.thread == thread and row.what.replace(" ", "") == thread


def _cited(row: TorqueRow) -> TorqueValue:
    return row.value if row.value.citations else replace(row.value, citations=row.citations)
