"""Where in a plan force first parts the joint: work stops before it until the joint is clear to part."""

from lastbolt.planning.names import any_of, words
from lastbolt.words.plan import Line, Plan


def first_force(plan: Plan) -> str:
    """The id of the goal's first step that presses, pulls, drives or parts; "" when no step says so."""
    return next((line.id for line in plan.lines if _forces(line, plan)), "")


def uses_force(said: str) -> bool:
    """Whether a step presses, pulls, drives or parts."""
    return bool(any_of(said, words()["force"]["words"]))


def _forces(line: Line, plan: Plan) -> bool:
    return line.kind == "step" and line.procedure in plan.procedures and uses_force(line.words)


def bare_fasteners(line: Line) -> bool:
    """Whether the step takes fasteners out and names neither size nor how many."""
    return line.kind == "step" and any(
        mention.deed == "remove" and mention.kind is not None
        and mention.kind.thread is None and mention.quantity.low is None
        and mention.kind.what in ("screw", "bolt", "nut")
        for mention in line.mentions
    )  # fmt: skip
