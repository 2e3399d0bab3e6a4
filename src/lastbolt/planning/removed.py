"""What a plan takes off, each thing with its way back: nothing that comes off is absent."""

from collections.abc import Container, Iterable, Iterator, Sequence

from lastbolt.planning.going_back import speaks_of
from lastbolt.planning.names import ends_in, same_name, same_part, stems, words
from lastbolt.planning.pairs import OFF, TOGETHER, Pairs
from lastbolt.planning.said_names import with_count_and_size
from lastbolt.planning.way_back import TakenOff, by_procedure, taken_off
from lastbolt.words.back import BackLine, Removed
from lastbolt.words.machine import Mention, Procedure
from lastbolt.words.plan import Line, Plan, Return


def removed(
    plan: Plan, pairs: Pairs, lines: Sequence[BackLine], not_here: Container[str] = ()
) -> tuple[Removed, ...]:
    """Every thing that the plan takes off, in its order, with the lines of the way back that put it on.

    `not_here`: steps for other variants; what they take off never came off this engine.
    """
    taken = [
        one
        for procedure, own in by_procedure(plan.lines, pairs)
        for one in taken_off(procedure, own, pairs)
        if one.step not in not_here
    ]
    finder = _OnBy(plan, lines, pairs)
    named = [_item(number, one, taken, finder, plan) for number, one in enumerate(taken)]
    return (*named, *_titled(plan, named, finder, not_here))


def _item(number: int, one: TakenOff, taken: Sequence[TakenOff], finder: "_OnBy", plan: Plan) -> Removed:
    mention, line = one.mention, one.line
    carrier = _carrier(one, taken) if one.with_its_part else ""
    new = any(same_part(mention.name, part) for part in line.renew) or any(
        same_name(mention.name, part.part) or (set(part.rows) & set(mention.rows))
        for part in plan.way_back.new_parts
    )
    exact = mention.quantity.kind == "exactly"
    return Removed(
        f"{line.id}/{number}",
        mention.name,
        line.id,
        mention.quantity.low if exact else None,
        finder.of(mention.name, line.id) or finder.of(carrier, line.id) or finder.fitted(mention, line),
        carrier,
        new,
        mention.rows,
        _fastener(mention),
        with_count_and_size(mention.name, (mention,)),
        _where(line),
    )


def _is_no_thing(part: str, procedure: Procedure | None, beside: bool) -> bool:
    """Whether a title's part is no one thing that came off: what is parted stays, and "gears and shafts" are
    told of by its steps."""
    if procedure is None or part not in procedure.parts:
        return False
    return procedure.deed == "separate" or (len(procedure.parts) > 1 and beside)


def _titled(
    plan: Plan, named: Sequence[Removed], finder: "_OnBy", not_here: Container[str]
) -> Iterator[Removed]:
    """What only a title takes off, or a source's return speaks of by another name."""
    lines = {line.id: line for line in plan.lines}
    of = {line.id: line.procedure for line in plan.lines}
    for item in plan.way_back.returns:
        own = of[item.off_by]
        beside = [one for one in named if of[one.off_by] == own]
        section = finder.pairs.named.get(own)
        if _is_no_thing(item.part, section, bool(beside)) or _elsewhere(item.part, section, not_here):
            continue
        if not any(same_part(one.part, item.part) for one in beside):
            on_by = finder.of(item.part, item.off_by)
            line = lines[item.off_by]
            yield Removed(
                f"{item.off_by}/{item.part}", item.part, item.off_by, on_by=on_by,
                called=item.part, where=_where(line),
            )  # fmt: skip


def _elsewhere(part: str, procedure: Procedure | None, not_here: Container[str]) -> bool:
    """Whether only a step for other engines takes the part off."""
    steps = [
        s for s in (procedure.steps if procedure else ()) if any(same_part(m.name, part) for m in s.mentions)
    ]
    return bool(steps) and all(step.id in not_here for step in steps)


def _where(line: Line) -> str:
    """ "5.1 step 4", where a line stands; the section alone where it has no mark."""
    return f"{line.number} step {line.mark}" if line.number and line.mark else line.number


def _carrier(one: TakenOff, taken: Iterable[TakenOff]) -> str:
    """The part of the same line with which a fastener or washer goes back."""
    beside = [
        other.mention.name for other in taken if other.line.id == one.line.id and not other.with_its_part
    ]
    return next(iter(beside), "")


def _fastener(mention: Mention) -> bool:
    return mention.kind is not None or ends_in(mention.name, words()["refit"]["fasteners"])


def _one_fastener(name: str) -> bool:
    return ends_in(name, words()["refit"]["fasteners"])


def same_size(one: Mention, other: Mention) -> bool:
    """Whether two mentions name one row of the parts list, or one thread and length."""
    if set(one.rows) & set(other.rows):
        return True
    a, b = one.kind, other.kind
    return bool(a and b and a.thread and a.length_mm and (a.thread, a.length_mm) == (b.thread, b.length_mm))


class _OnBy:
    """By which lines of the way back a thing goes on."""

    def __init__(self, plan: Plan, lines: Sequence[BackLine], pairs: Pairs) -> None:
        self.pairs = pairs
        self.returns: dict[str, list[Return]] = {}
        for item in plan.way_back.returns:
            self.returns.setdefault(item.off_by, []).append(item)
        self.reversing: dict[str, list[BackLine]] = {}
        self.of_step: dict[str, list[str]] = {}
        self.told: dict[str, list[BackLine]] = {}
        """The sources' own lines by the removal that they undo."""
        self.named = pairs.named
        self.paired = {
            line.id: {pair.procedure.id for pair in pairs.of(pairs.named[line.procedure])}
            for line in plan.lines
            if line.procedure in pairs.named
        }
        for one in lines:
            if one.how == "told":
                self.told.setdefault(one.line.procedure, []).append(one)
            if one.reverses:
                self.reversing.setdefault(one.reverses, []).append(one)
            for name in {one.line.step, one.line.id} - {""}:
                self.of_step.setdefault(name, []).append(one.line.id)

    def of(self, part: str, off_by: str) -> tuple[str, ...]:
        """Ids of the lines; none when no line names it."""
        if not stems(part):
            return ()
        told = [
            line
            for item in self.returns.get(off_by, ())
            if same_part(item.part, part)
            for by in item.on_by
            for line in self.of_step.get(by, ())
        ]
        backward = [
            one.line.id
            for one in self.reversing.get(off_by, ())
            if any(same_part(part, name) for name in one.parts)
        ]
        return tuple(dict.fromkeys((*told, *backward))) or self._in_the_pair(part, off_by)

    def fitted(self, mention: Mention, line: Line) -> tuple[str, ...]:
        """Lines of any section that fit fasteners of just this size with the part which they held: "Fit the
        cowl. Tighten the three screws M5 x 12"."""
        own = self.named.get(line.procedure)
        steps = own.steps if own is not None else ()
        beside = {m.name for step in steps for m in step.mentions if m.deed in OFF}
        held = [*(own.parts if own else ()), *(name for name in beside if not _one_fastener(name))]
        return tuple(
            one.line.id
            for some in self.told.values()
            for one in some
            if one.line.kind == "step"
            and any(m.deed in TOGETHER and same_size(m, mention) for m in one.line.mentions)
            and any(same_part(part, name) for part in one.parts for name in held)
        )

    def _in_the_pair(self, part: str, off_by: str) -> tuple[str, ...]:
        """The lines of the section that undoes the removal which speak of such a thing: "the four screws"."""
        head = set(stems(part)[-1:])
        return tuple(
            one.line.id
            for procedure in self.paired.get(off_by, ())
            for one in self.told.get(procedure, ())
            if (one.line.kind == "step" and head & {s for m in one.line.mentions for s in stems(m.name)[-1:]})
            or speaks_of(one.line.words, part)
        )
