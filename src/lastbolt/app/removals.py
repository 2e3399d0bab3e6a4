"""The steps of a plan that take fasteners out, with the parts rows they name."""

from typing import Literal

from msgspec import Struct

from lastbolt.app.holder_words import is_dowel_name
from lastbolt.words.machine import Machine, Mention, PartsRow, Procedure, Step

Belongs = Literal["wholly", "partly", "maybe"]


class Removal(Struct, frozen=True):
    """A step of the closure that takes fasteners out, and the rows it names; `parts`: of the goal itself.

    `why` (and `how` far they belong) is filled when the rows were told from other things than their size;
    `sure` when another section names them by size.
    """

    step: Step
    procedure: Procedure
    mention: Mention
    rows: tuple[str, ...]
    parts: bool
    why: str = ""
    how: Belongs = "partly"
    sure: bool = False


def removals(machine: Machine, closure: tuple[str, ...], goals: tuple[str, ...]) -> tuple[Removal, ...]:
    """Every step of the closure that takes fasteners out."""
    rows = {row.id: row for row in machine.rows}
    wanted = set(closure) | set(goals)
    found = []
    for procedure in machine.procedures:
        if procedure.id not in wanted:
            continue
        for step in procedure.steps:
            for mention in step.mentions:
                fasteners = tuple(row for row in mention.rows if row in rows and tallied(rows[row]))
                deed = mention.deed if mention.deed != "other" else (step.deeds[0] if step.deeds else "other")
                if deed == "remove" and (fasteners or mention.kind is not None):
                    parts = procedure.id in goals
                    found.append(Removal(step, procedure, mention, fasteners, parts))
    return tuple(found)


def tallied(row: PartsRow) -> bool:
    """Whether a row is counted: a fastener, and no dowel, which is settled with the other holders.

    A bolt named after the dowel that it goes through ("dowel bolt") is a bolt.
    """
    if row.kind is None or row.kind.what == "dowel":
        return False
    return row.kind.what in ("bolt", "screw", "stud", "nut") or not is_dowel_name(row.name)


def removal_words(removal: Removal) -> str:
    """ "section 4.2 step 5"."""
    number = removal.procedure.number or removal.procedure.title
    return f"section {number} step {removal.step.mark}" if removal.step.mark else f"section {number}"
