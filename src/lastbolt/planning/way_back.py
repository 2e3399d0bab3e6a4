"""The way back: for everything that comes off, what the sources say about putting it on again."""

import re
from collections import defaultdict
from collections.abc import Iterable

from msgspec import Struct

from lastbolt.planning.names import same_part, stems
from lastbolt.planning.sequence import circles, order
from lastbolt.words.citation import Citation
from lastbolt.words.machine import Machine, Mention, Procedure, Reference, Step
from lastbolt.words.plan import Line, NewPart, Return, WayBack
from lastbolt.words.problem import Problem

OFF, ON = ("remove", "separate"), ("install", "join", "fill")
_EXCEPT = re.compile(r"\b(?:except(?:ing)?(?: that)?|but|however)\b[:,]?\s*(.+)", re.I | re.S)


class _On(Struct, frozen=True):
    """One thing that a source puts on."""

    name: str
    rows: tuple[str, ...]
    by: str
    procedure: str
    citations: tuple[Citation, ...]
    whole: bool
    """The procedure as a whole installs it, not one step."""


def way_back(lines: tuple[Line, ...], machine: Machine) -> tuple[WayBack, tuple[Problem, ...]]:
    """How each removed part goes back, as far as the sources say; a problem for each that has no way back."""
    book = _Installations(machine)
    returns: list[Return] = []
    problems: list[Problem] = []
    seen: set[tuple[str, ...]] = set()
    for line in lines:
        if line.kind != "step":
            continue
        for mention in line.mentions:
            key = stems(mention.name)
            if mention.deed not in OFF or not key or key in seen or _goes_with_its_part(mention, line):
                continue
            seen.add(key)
            item = book.return_of(mention, line)
            returns.append(item)
            if item.how == "none":
                problems.append(_no_way_back(item, line))
    procedures = tuple(dict.fromkeys(p for item in returns for p in book.procedures_of(item)))
    return WayBack(tuple(returns), book.in_order(procedures), _new_parts(lines, machine)), tuple(problems)


def _goes_with_its_part(mention: Mention, line: Line) -> bool:
    """A fastener is back when the part it holds is; alone it is asked for when it is all that comes off."""
    others = [m for m in line.mentions if m.deed in OFF and m.kind is None]
    return mention.kind is not None and bool(others or len(line.mentions) > 1)


def _no_way_back(item: Return, line: Line) -> Problem:
    cite = item.off_citations[0] if item.off_citations else None
    place = f"{line.number} step {line.mark}".strip()
    return Problem(
        "LB-W01",
        f"{place} removes {item.part}, and no source says how it goes back on.",
        f'{place}: "{cite.words if cite and cite.words else line.words}"',
        "Note how it sat before it comes off (photo, mark), and agree on its way back with the instructor.",
        "doubt",
        item.off_citations,
    )


class _Installations:
    def __init__(self, machine: Machine) -> None:
        self.order = {procedure.id: place for place, procedure in enumerate(machine.procedures)}
        self.named = {procedure.id: procedure for procedure in machine.procedures}
        self.of_step = {step.id: p.id for p in machine.procedures for step in p.steps}
        self.by_head: dict[str, list[_On]] = defaultdict(list)
        self.by_row: dict[str, list[_On]] = defaultdict(list)
        self.reversed: dict[str, list[tuple[Reference, Step | None, Procedure]]] = defaultdict(list)
        for procedure in machine.procedures:
            self._read(procedure)

    def _read(self, procedure: Procedure) -> None:
        if procedure.deed in ON:
            for part in procedure.parts:
                self._put(_On(part, (), procedure.id, procedure.id, procedure.citations, True))
        references = [(reference, None) for reference in (*procedure.before, *procedure.after)]
        references += [(reference, step) for step in procedure.steps for reference in step.references]  # type: ignore[misc]
        for reference, step in references:
            if reference.role == "reverse of":
                for target in reference.to or (procedure.id,):
                    self.reversed[self.of_step.get(target, target)].append((reference, step, procedure))
        for step in procedure.steps:
            for mention in step.mentions:
                if mention.deed in ON or (mention.deed == "other" and set(step.deeds) & set(ON)):
                    rows = mention.rows
                    self._put(_On(mention.name, rows, step.id, procedure.id, step.citations, False))

    def _put(self, on: _On) -> None:
        head = stems(on.name)
        if head:
            self.by_head[head[-1]].append(on)
        for row in on.rows:
            self.by_row[row].append(on)

    def return_of(self, mention: Mention, line: Line) -> Return:
        """The ways back of one removed part: its own rows first, then its name, then a reversal."""
        found = [on for row in mention.rows for on in self.by_row[row]]
        if not found:
            key = stems(mention.name)
            found = [on for on in self.by_head[key[-1]] if same_part(on.name, mention.name)]
        reversals = self.reversed.get(line.procedure, ())
        if found:
            whole = any(on.whole for on in found)
            cites = _first(on.citations for on in found)
            by = tuple(dict.fromkeys(on.by for on in found))
            return Return(
                mention.name, line.id, "procedure" if whole else "step", by,
                _exceptions(reversals), "", line.citations, cites,
            )  # fmt: skip
        if reversals:
            by = tuple(dict.fromkeys(step.id if step else p.id for _, step, p in reversals))
            cites = _first(reference.citations for reference, _, _ in reversals)
            exceptions = _exceptions(reversals)
            return Return(
                mention.name, line.id, "reverse of removal", by, exceptions, reversals[0][0].words,
                line.citations, cites,
            )  # fmt: skip
        return Return(mention.name, line.id, "none", off_citations=line.citations)

    def procedures_of(self, item: Return) -> Iterable[str]:
        """The procedures in which the part goes back."""
        return (self.of_step.get(by, by) for by in item.on_by)

    def in_order(self, procedures: Iterable[str]) -> tuple[str, ...]:
        """Those procedures so that what one requires stands before it; else in the order of the source."""
        ids = sorted(procedures, key=lambda one: self.order.get(one, len(self.order)))
        among = frozenset(ids)
        edges = [edge for one in ids if one in self.named for edge in self._edges(self.named[one], among)]
        group = {one: number for number, round_ in enumerate(circles(ids, edges)) for one in round_}
        kept = [(a, b) for a, b in edges if a not in group or group[a] != group.get(b)]
        return tuple(order(ids, kept))

    def _edges(self, procedure: Procedure, among: frozenset[str]) -> Iterable[tuple[str, str]]:
        """What its set-up and steps put before it, and its follow-on behind it, among these."""
        steps = (reference for step in procedure.steps for reference in step.references)
        for reference in (*procedure.before, *procedure.after, *steps):
            for target in reference.to:
                other = self.of_step.get(target, target)
                if other in among and other != procedure.id:
                    if reference.role == "before":
                        yield other, procedure.id
                    elif reference.role == "after":
                        yield procedure.id, other


def _exceptions(reversals: Iterable[tuple[Reference, Step | None, Procedure]]) -> tuple[str, ...]:
    said = []
    for reference, step, _ in reversals:
        found = _EXCEPT.search(step.words if step else reference.words)
        if found:
            said.append(found.group(1).strip())
    return tuple(dict.fromkeys(said))


def _first(citations: Iterable[tuple[Citation, ...]]) -> tuple[Citation, ...]:
    return tuple(dict.fromkeys(one for some in citations for one in some[:1]))


def _new_parts(lines: tuple[Line, ...], machine: Machine) -> tuple[NewPart, ...]:
    rows = {row.id: row for row in machine.rows}
    found: dict[tuple[str, ...], NewPart] = {}
    for line in lines:
        for part in line.renew:
            near = [m for m in line.mentions if same_part(m.name, part)]
            ids = tuple(dict.fromkeys(row for m in near for row in m.rows if row in rows))
            numbers = tuple(rows[row].part_number for row in ids if rows[row].part_number)
            found.setdefault(stems(part), NewPart(part, line.words, ids, numbers, line.citations))
        for mention in line.mentions:
            for row_id in mention.rows:
                row = rows.get(row_id)
                if row is not None and row.renew and mention.deed in OFF:
                    new = NewPart(row.name, row.remarks, (row.id,), (row.part_number,), row.citations)
                    found.setdefault(stems(row.name), new)
    return tuple(found.values())
