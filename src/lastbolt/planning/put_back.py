"""The way back line by line: the sources' own steps, their "reverse of removal" read out, and a proposal
where they say nothing.

The installation procedures are closed over like any goal, so that what they require comes with them and each
source keeps its own order. What no source puts back is offered where its removal, read from the end, has its
place; a person confirms it.
"""

from collections.abc import Collection, Iterable, Iterator, Sequence

from msgspec import Struct
from msgspec.structs import replace

from lastbolt.planning.after_joining import behind_joining
from lastbolt.planning.back_order import in_order
from lastbolt.planning.book import Book
from lastbolt.planning.closure import close
from lastbolt.planning.make_line import OFF, state_of, step_line
from lastbolt.planning.names import same_part, stems
from lastbolt.planning.only_own import only_own
from lastbolt.planning.opens import open_points
from lastbolt.planning.pairs import TOGETHER, Pair, Pairs
from lastbolt.planning.reach import Asker
from lastbolt.planning.removed import removed
from lastbolt.planning.said_names import one_word_fastener, with_count_and_size
from lastbolt.planning.state import Done, Tick
from lastbolt.planning.way_back import by_procedure, exceptions
from lastbolt.words.back import BackHow, BackLine, Removed
from lastbolt.words.machine import Mention, TorqueValue
from lastbolt.words.plan import Fastening, Line, Open, Plan, RequiredBy

REVERSED = "back/"
"""In front of the id of the plan line that a line of the way back undoes."""
PUT_BACK = "Put back: {}."
PUTS_ON = ("install", "join", "fill")
NOT_TOLD = ("none", "torque table")
NOTHING_TO_UNDO = frozenset({"mark", "check", "other"})
UNDO = 'Undo, where there is something to undo: "{}"'
CONFIRM = "No source says how. The reverse of the removal is offered: confirm it with the instructor."
OTHER_WAY = "Read the other way round from the removal."
PICTURE = "Hold the picture beside the bench: what is on there that is still off here?"


class LinesBack(Struct, frozen=True):
    """The lines of the way back, and what its sources leave open."""

    lines: tuple[BackLine, ...]
    removed: tuple[Removed, ...]
    open: tuple[Open, ...]


def put_back(plan: Plan, book: Book, done: Done) -> LinesBack:
    """Every line of the way back of a plan.

    Args:
        plan: what takes things apart; its `way_back` says what goes back by which procedure
        book: the same machine and engine as the plan's
        done: the job so far
    """
    goals = plan.way_back.procedures
    own = frozenset(line.procedure for line in plan.lines) - set(goals)
    pairs = Pairs(book.machine)
    off = Tick(("the way apart",), looked=True)
    still_on = dict.fromkeys(_still_on(own, goals, pairs), Tick())
    apart = replace(done, procedures={**still_on, **done.procedures, **dict.fromkeys(own, off)})
    closure = close(goals, book, apart)
    told_already = {one.subject for one in plan.open}
    opens = tuple(one for one in open_points(closure, Asker(book, apart)) if one.subject not in told_already)
    told = [_told(_answered(line, done)) for line in _on_the_way(closure.lines, own, plan)]
    told = only_own(told, plan, book, pairs)
    reverser = _Reverser(plan, book, done, pairs)
    lines = _with_proposals(_with_reversals(told, reverser), reverser, reverser.proposals())
    lines = behind_joining(lines, book.procedures)
    not_here = _of_other_engines(book, done)
    things = removed(plan, pairs, lines, not_here)
    if forgotten := reverser.forgotten(things):
        lines = _with_proposals(lines, reverser, forgotten)
        things = removed(plan, pairs, lines, not_here)
    return LinesBack(tuple(in_order(lines, things, plan, book, pairs)), things, opens)


def _of_other_engines(book: Book, done: Done) -> frozenset[str]:
    """The steps that are not for this engine."""
    asker = Asker(book, done)
    return frozenset(
        step.id
        for procedure in book.machine.procedures
        for step in procedure.steps
        if asker.step_applies(step) == "no"
    )


def _still_on(own: Iterable[str], goals: Collection[str], pairs: Pairs) -> Iterator[str]:
    """Procedures that put on what this plan never takes off: to be confirmed, not done."""
    undone = {pair.procedure.id for one in own if one in pairs.named for pair in pairs.of(pairs.named[one])}
    for procedure in pairs.named.values():
        if procedure.deed in PUTS_ON and procedure.id not in undone and procedure.id not in goals:
            yield procedure.id


def _answered(line: Line, done: Done) -> Line:
    """A condition that somebody said to hold is done."""
    event = done.answers.get(line.id)
    if line.kind != "condition" or event is None or event.answer != "yes":
        return line
    return replace(line, state="done", by=(event.by,), looked=True, said=(event.id,))


def _told(line: Line) -> BackLine:
    question = PICTURE if line.kind == "opening" and line.figures else ""
    asks = line.question if line.kind != "opening" else question
    parts = tuple(m.name for m in line.mentions if m.deed in TOGETHER)
    return BackLine(replace(line, question=asks), "told", parts=parts)


def _on_the_way(lines: Iterable[Line], own: Collection[str], plan: Plan) -> Iterator[Line]:
    """The lines that are not of the way apart (`own`); of a section that takes off and puts on again, only
    what stands after the part is off."""
    apart = {one.procedure for one in plan.lines}
    off_by = {one.off_by for one in plan.way_back.returns}
    every = tuple(lines)
    off = [any(m.deed in OFF for m in line.mentions) or line.id in off_by for line in every]
    first: dict[str, int] = {}
    for number, line in enumerate(every):
        if off[number]:
            first.setdefault(line.procedure, number)
    for number, line in enumerate(every):
        both_ways = line.kind == "step" and line.procedure in apart
        apart_yet = off[number] or number < first.get(line.procedure, 0)
        if line.procedure not in own and not (both_ways and apart_yet):
            yield line


def _with_reversals(told: Sequence[BackLine], reverser: "_Reverser") -> list[BackLine]:
    """Behind each "reverse of removal" the removal's lines from the last to the first."""
    found: list[BackLine] = []
    for one in told:
        found.append(one)
        for by in dict.fromkeys((one.line.step, one.line.id)):
            found += reverser.behind(by) if by else []
    return [*found, *reverser.never_met()]


def _with_proposals(
    lines: list[BackLine], reverser: "_Reverser", proposals: Iterable[tuple[int, BackLine]]
) -> list[BackLine]:
    """With what no source puts back: before the first section whose parts came off earlier."""
    opens = {one.line.id: place for place, one in enumerate(lines) if one.line.kind == "opening"}
    at: dict[int, list[BackLine]] = {}
    for place, proposal in proposals:
        later = (opens[name] for name, first in reverser.first.items() if first < place and name in opens)
        at.setdefault(min(later, default=len(lines)), []).append(proposal)
    found: list[BackLine] = []
    for number, line in enumerate((*lines, None)):
        found += at.get(number, ())
        found += [line] if line is not None else []
    return found


class _Reverser:
    """Removal lines read the other way."""

    def __init__(self, plan: Plan, book: Book, done: Done, pairs: Pairs) -> None:
        self.plan, self.book, self.done = plan, book, done
        self.place = {line.id: number for number, line in enumerate(plan.lines)}
        self.lines = {line.id: line for line in plan.lines}
        self.by: dict[str, list[tuple[str, Pair]]] = {}
        """Removals by the step or section that says of them "reverse of removal"."""
        for procedure, _ in by_procedure(plan.lines, pairs):
            for pair in pairs.of(procedure):
                if pair.reference is not None:
                    by = pair.step.id if pair.step else pair.procedure.id
                    self.by.setdefault(by, []).append((procedure.id, pair))
        self.first: dict[str, int] = {}
        """The place of the earliest removal that a procedure undoes."""
        for item in plan.way_back.returns:
            for name in {book.steps[one][0] if one in book.steps else one for one in item.on_by}:
                here = self.place[item.off_by]
                self.first[name] = min(here, self.first.get(name, here))

    def behind(self, by: str) -> list[BackLine]:
        """What a step or section stands for that says "reverse of removal"."""
        removals = self.by.pop(by, ())
        back = [one for removal, _ in removals for one in self._reversed(removal, OTHER_WAY, "reversed")]
        whole = [
            self.done.procedures.get(pair.procedure.id) or self.done.steps.get(by) for _, pair in removals
        ]
        told = _with_exceptions(back, exceptions([pair for _, pair in removals]))
        return [_ticked(one, whole[0]) for one in told] if whole and whole[0] else told

    def never_met(self) -> list[BackLine]:
        """Reversals whose own words stand on no line: a heading that says it, a section outside the plan."""
        return [line for by in tuple(self.by) for line in self.behind(by)]

    def proposals(self) -> list[tuple[int, BackLine]]:
        """What no source puts back, from the last to the first: whole sections, else line by line."""
        found: dict[str, BackLine] = {}
        for item in self.plan.way_back.returns:
            if item.how not in NOT_TOLD:
                continue
            line = self.lines[item.off_by]
            own = self.book.procedures[line.procedure].parts
            if item.part in own:
                found |= {one.line.id: one for one in self._reversed(line.procedure, CONFIRM, "proposed")}
            else:
                one = self.proposed(item.off_by, (item.part,))
                before = found.get(one.line.id)
                found[one.line.id] = self.proposed(item.off_by, (*before.parts, item.part)) if before else one
        return sorted(((self.place[one.reverses], one) for one in found.values()), key=lambda it: -it[0])

    def forgotten(self, things: Iterable[Removed]) -> list[tuple[int, BackLine]]:
        """What has no line yet and is not renewed either: the reverse of the line that takes it off."""
        by_line: dict[str, list[str]] = {}
        for one in things:
            if not one.on_by and not one.renewed:
                by_line.setdefault(one.off_by, []).append(one.part)
        found = [(self.place[off_by], self.proposed(off_by, parts)) for off_by, parts in by_line.items()]
        return sorted(found, key=lambda it: -it[0])

    def proposed(self, off_by: str, parts: Iterable[str]) -> BackLine:
        """The reverse of one line, for these parts, to be confirmed."""
        names = tuple(dict.fromkeys(parts))
        return BackLine(self._line(self.lines[off_by], names, CONFIRM), "proposed", off_by, names)

    def _reversed(self, procedure: str, question: str, how: BackHow) -> list[BackLine]:
        """The removal's lines, last first; those that only looked or marked have nothing to undo. Of a
        proposal without the parts that a source puts back."""
        removal = self._removal(procedure)
        named = {m.name for line, _ in removal for m in line.mentions if m.deed in OFF}
        returns = self.plan.way_back.returns
        titled = {item.off_by: item.part for item in returns if not _among(item.part, named)}
        told = {(item.off_by, item.part) for item in returns if item.how not in NOT_TOLD}
        found = []
        for line, off_by in reversed(removal):
            off = [m.name for m in line.mentions if m.deed in OFF and stems(m.name)]
            left = [one for one in off if how == "reversed" or (off_by, one) not in told]
            undone = tuple(dict.fromkeys([titled[line.id], *left] if line.id in titled else left))
            turned = {m.deed for m in line.mentions} - NOTHING_TO_UNDO
            if undone or (turned and left == off):
                found.append(BackLine(self._line(line, undone, question), how, off_by, undone))
        return found

    def _removal(self, procedure: str) -> list[tuple[Line, str]]:
        """The lines of a removal, each with the plan line that stands for it: of a ticked one its steps."""
        own = [line for line in self.plan.lines if line.procedure == procedure]
        confirm = next((line for line in own if line.kind == "confirm"), None)
        if confirm is None:
            return [(line, line.id) for line in own if line.kind == "step"]
        one = self.book.procedures[procedure]
        because = RequiredBy("part of", confirm.id)
        return [(step_line(step, one, 0, Done(), because), confirm.id) for step in one.steps]

    def _line(self, line: Line, parts: tuple[str, ...], question: str) -> Line:
        name = f"{REVERSED}{line.id}"
        tick = self.done.steps.get(name)
        mentions = tuple(
            Mention(m.name, "install", m.quantity, m.kind, m.callouts, m.rows, m.figure)
            for m in line.mentions
            if m.deed in OFF
        )
        return replace(
            line,
            id=name,
            kind="step",
            step=name,
            words=self._words(line, parts),
            state=state_of(tick, started=False),
            by=tick.by if tick else (),
            looked=bool(tick and tick.looked),
            said=tick.events if tick else (),
            required_by=RequiredBy("part of", line.id, words=line.words, citations=line.citations),
            question=question,
            off=(),
            beside="",
            mentions=mentions,
            torques=tuple(_torques(self.plan.way_back.fastenings, line.procedure, parts)),
        )

    def _words(self, line: Line, parts: tuple[str, ...]) -> str:
        if not parts:
            return UNDO.format(line.words)
        whole = self.book.procedures[line.procedure].parts
        called = [with_count_and_size(part, line.mentions) for part in parts]
        bare = all(one_word_fastener(part) for part in parts)
        of = f" ({whole[0][:1].lower()}{whole[0][1:]})" if bare and whole else ""
        return PUT_BACK.format(f"{', '.join(called)}{of}")


def _among(part: str, parts: Iterable[str]) -> bool:
    return any(same_part(part, one) for one in parts)


def _ticked(one: BackLine, tick: Tick) -> BackLine:
    """A reversed line, ticked with the section or step that says "reverse of removal"."""
    if one.line.state != "to do":
        return one
    line = replace(
        one.line, state=state_of(tick, started=False), by=tick.by, looked=tick.looked, said=tick.events
    )
    return replace(one, line=line)


def _torques(
    fastenings: Iterable[Fastening], procedure: str, parts: tuple[str, ...]
) -> Iterator[TorqueValue]:
    for item in fastenings:
        if item.of == procedure and _among(item.part, parts):
            yield from item.torques


def _with_exceptions(lines: list[BackLine], said: Iterable[str]) -> list[BackLine]:
    """Each exception at the first line that puts back what it names; else at the first of all."""
    at: dict[int, list[str]] = {}
    for exception in said:
        heads = set(stems(exception))
        named = (n for n, one in enumerate(lines) if any(set(stems(p)[-1:]) & heads for p in one.parts))
        at.setdefault(next(named, 0), []).append(exception)
    return [replace(one, exceptions=tuple(at.get(n, ()))) for n, one in enumerate(lines)]
