"""Consumables of a job: oil, sealant, grease, by amount; what was used already is not ordered."""

from collections.abc import Iterable, Iterator

from lastbolt.words.back import Back
from lastbolt.words.codes import number_behind
from lastbolt.words.machine import Machine, Procedure
from lastbolt.words.order import OrderLine, Reason
from lastbolt.words.plan import Line, Plan
from lastbolt.words.supplies import Consumable

USED = ("done", "done, not looked at")


def used_up(machine: Machine, plan: Plan, back: Back) -> Iterator[OrderLine]:
    """What the plan and its way back use up, by amount where the sources print one."""
    todo: dict[str, set[str]] = {}
    for line in (*plan.lines, *(one.line for one in back.lines)):
        if _ahead(line):
            todo.setdefault(line.procedure, set()).add(line.step)
    numbers = frozenset(row.part_number for row in machine.rows if row.part_number)
    used: dict[str, list[tuple[Consumable, str]]] = {}
    for procedure in machine.procedures:
        steps = todo.get(procedure.id)
        if steps is None:
            continue
        own = [one for step in procedure.steps if step.id in steps for one in step.consumables]
        for one in (*procedure.consumables, *own):
            used.setdefault(one.name.strip().casefold(), []).append((one, _number(one, procedure, numbers)))
    for some in used.values():
        first = some[0][0]
        printed = {number for _, number in some} - {""}
        reasons = tuple(
            dict.fromkeys(
                Reason("consumable", one.words or one.name, citations=one.citations) for one, _ in some
            )
        )
        yield OrderLine(
            first.name,
            printed.pop() if len(printed) == 1 else "",
            amount=_amount(one for one, _ in some),
            reasons=reasons,
            citations=first.citations,
        )


def _ahead(line: Line) -> bool:
    """Whether a line is work that is still to be done."""
    return line.kind == "step" and line.state not in USED


def _number(one: Consumable, procedure: Procedure, numbers: frozenset[str]) -> str:
    """The part number that is printed with it, there or in the set-up of its section."""
    name = one.name.strip().casefold()
    beside = [said for said in procedure.materials if said.strip().casefold().startswith(name)]
    found = {number_behind(said, numbers) for said in (one.words, *beside)} - {""}
    return found.pop() if len(found) == 1 else ""


def _amount(some: Iterable[Consumable]) -> str:
    """Amounts of one unit added; what has none as the source says it."""
    sums: dict[str, float] = {}
    said: dict[str, None] = {}
    for one in some:
        span = one.amount
        if span is not None and span.high is not None and span.unit:
            sums[span.unit] = sums.get(span.unit, 0.0) + span.high
        elif one.how:
            said[one.how] = None
    return ", ".join([*(f"{round(value, 6):g} {unit}" for unit, value in sums.items()), *said])
