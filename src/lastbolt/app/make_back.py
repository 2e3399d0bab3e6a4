"""A plan that takes apart -> the way back: its lines, and what becomes of everything that came off."""

from lastbolt.app.prepared import prepared
from lastbolt.planning.book import Book, EngineKind
from lastbolt.planning.put_back import put_back
from lastbolt.planning.state import done_so_far
from lastbolt.words.back import BACK_SCHEMA, Back
from lastbolt.words.job import Job
from lastbolt.words.machine import Machine
from lastbolt.words.plan import Plan


def make_back(machine: Machine, plan: Plan, job: Job | None = None) -> Back:
    """The way back of a plan that `make_plan` made of the same machine and job."""
    machine = prepared(machine)
    book = Book(machine, EngineKind(plan.variant, plan.serial))
    done = done_so_far(job).with_whole(machine.procedures)
    made = put_back(plan, book, done)
    return Back(
        BACK_SCHEMA,
        plan.goal,
        plan.machine,
        made.lines,
        made.removed,
        made.open,
        plan.way_back.new_parts,
        plan.way_back.fastenings,
        tuple(problem for problem in plan.problems if problem.code == "LB-W01"),
    )
