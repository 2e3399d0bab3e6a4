"""A goal in plain words -> the plan."""

from msgspec.structs import replace

from lastbolt.app.prepared import prepared
from lastbolt.app.torque_sizes import size_of_row
from lastbolt.planning.before_off import before_off
from lastbolt.planning.book import Book, EngineKind
from lastbolt.planning.closure import close
from lastbolt.planning.disagreements import disagreements
from lastbolt.planning.force import parting
from lastbolt.planning.general import asked_of_all, general_warnings
from lastbolt.planning.goal import find_goal, section_number
from lastbolt.planning.have_ready import have_ready
from lastbolt.planning.named_states import asked_by_states
from lastbolt.planning.opens import of_another_model, open_points, problems_of, set_aside, without_steps
from lastbolt.planning.problems import unnamed_variant
from lastbolt.planning.put_right import put_aside, put_right_in
from lastbolt.planning.reach import Asker
from lastbolt.planning.state import done_so_far
from lastbolt.planning.way_back import way_back
from lastbolt.words.engine import Engine
from lastbolt.words.job import Job
from lastbolt.words.machine import Machine
from lastbolt.words.plan import PLAN_SCHEMA, Candidate, Open, Plan


def make_plan(machine: Machine, goal: str, engine: Engine | None = None, job: Job | None = None) -> Plan:
    """The plan for the goal; with no procedure in it when the goal is not clear (see its candidates)."""
    machine = prepared(machine)
    variant = (engine.variant if engine else "") or (job.variant if job else "")
    plan = Plan(
        PLAN_SCHEMA, goal, machine.name,
        engine=engine.name if engine else "",
        variant=variant,
        serial=engine.serial if engine else None,
    )  # fmt: skip
    book = Book(machine, EngineKind(variant, engine.serial if engine else None))
    others = frozenset(p.id for p in machine.procedures if book.applies(p.applies) == "no")
    procedures, candidates = find_goal(machine, goal, others)
    if not procedures:
        return replace(plan, candidates=candidates, open=(_unclear(goal, candidates, machine),))
    asking = asked_by_states(asked_of_all(machine, procedures), procedures)
    if asking is not machine:
        machine, book = asking, Book(asking, book.engine)
    done = done_so_far(job).with_whole(machine.procedures)
    closure = close(procedures, book, done)
    opens = (
        *open_points(closure, Asker(book, done)),
        *without_steps(procedures, closure, book),
        *of_another_model(job, machine),
    )
    lines = closure.lines
    parted = parting(replace(plan, procedures=procedures, lines=lines))
    joints = tuple(dict.fromkeys((*procedures, *parted)))
    back, no_way_back = way_back(lines, machine, joints, size_of_row)
    in_plan = frozenset(line.procedure for line in closure.lines)
    return replace(
        plan,
        procedures=procedures,
        candidates=candidates,
        complete=not opens,
        open=opens,
        lines=closure.lines,
        before_off=before_off(closure.lines, machine),
        way_back=back,
        left_out=(*set_aside(closure, done), *put_aside(machine, in_plan)),
        general=general_warnings(closure.lines, machine),
        ready=have_ready(closure.lines, machine),
        problems=(
            *unnamed_variant(variant, machine),
            *problems_of(opens, job, machine),
            *disagreements(machine, in_plan),
            *no_way_back,
        ),
        put_right=put_right_in(machine, in_plan),
    )


def _unclear(goal: str, candidates: tuple[Candidate, ...], machine: Machine) -> Open:
    """What is wrong with a goal that names no one procedure, and what to say instead."""
    nearest = tuple(candidate.procedure for candidate in candidates)
    if candidates:
        said = f'No one procedure is clearly "{goal}".'
        return Open("goal", said, "Give the number or the title of the one that is meant.", "", nearest)
    do = "Say what is to be done to which part, or give a section number."
    if not goal.strip():
        return Open("goal", "No goal was given.", do)
    part = next((row for row in machine.rows if row.part_number and row.part_number == goal.strip()), None)
    if part is not None:
        return Open("goal", f'"{goal}" is the number of a part: {part.name}.', do, citations=part.citations)
    number = section_number(goal)
    said = f"There is no section {number} with steps." if number else f'No procedure is clearly "{goal}".'
    return Open("goal", said, do)
