"""A plan that takes apart -> the way back: its lines, and what becomes of everything that came off."""

from msgspec.structs import replace

from lastbolt.app.prepared import prepared
from lastbolt.app.torque_sizes import size_of_row
from lastbolt.planning.book import Book, EngineKind
from lastbolt.planning.put_back import put_back
from lastbolt.planning.state import done_so_far
from lastbolt.planning.table_torques import with_table_torques
from lastbolt.tightening.units_agree import both_units
from lastbolt.words.back import BACK_SCHEMA, Back, BackLine
from lastbolt.words.job import Job
from lastbolt.words.machine import Caution, Machine
from lastbolt.words.plan import Plan


def make_back(machine: Machine, plan: Plan, job: Job | None = None) -> Back:
    """The way back of a plan that `make_plan` made of the same machine and job."""
    machine = prepared(machine)
    book = Book(machine, EngineKind(plan.variant, plan.serial))
    done = done_so_far(job).with_whole(machine.procedures)
    made = put_back(plan, book, done)
    lines = with_table_torques(made.lines, machine, size_of_row)
    return Back(
        BACK_SCHEMA,
        plan.goal,
        plan.machine,
        tuple(_with_units_told(one) for one in lines),
        made.removed,
        made.open,
        plan.way_back.new_parts,
        plan.way_back.fastenings,
        tuple(problem for problem in plan.problems if problem.code == "LB-W01"),
    )


def _with_units_told(one: BackLine) -> BackLine:
    """The line with a caution for each torque whose printed units do not convert into each other."""
    told = []
    for value in one.line.torques:
        printed = tuple((low, high, unit) for low, high, unit in value.printed)
        if len(printed) > 1 and not (agreed := both_units(printed)).agree:
            told.append(Caution("caution", f"{agreed.words[:1].upper()}{agreed.words[1:]}.", value.citations))
    return replace(one, line=replace(one.line, cautions=(*told, *one.line.cautions))) if told else one
