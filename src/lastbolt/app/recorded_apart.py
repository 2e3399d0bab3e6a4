"""Whether the record says that the joint is apart already, so that nothing is left to pull.

Only what somebody looked at says so, step by step, from the first one with force to the last of the section
that parts the joint; and nothing that came after may say otherwise.
"""

from collections.abc import Sequence

from lastbolt.app.gather_documents import Documents
from lastbolt.app.gather_job import Heard, Tick
from lastbolt.planning.force import forces
from lastbolt.planning.pairs import Pairs
from lastbolt.words.machine import Procedure, Step

STILL_IN = ("in", "slack", "broken off", "hollow dowel, bolt in")


def recorded_apart(documents: Documents, heard: Heard) -> str:
    """The last step of the parting and who looked, "6.4 step 9, looked at by Lio"; empty while it is not."""
    machine = documents.machine
    parting = [one for one in machine.procedures if one.id in documents.goals] if machine else []
    for section in parting:
        steps = _from_force_on(section)
        ticks = [heard.steps.get(step.id) for step in steps]
        seen = [tick for tick in ticks if tick is not None and tick.done and tick.looked]
        if seen and len(seen) == len(steps) and not _said_since(documents, heard, seen):
            last = max(seen, key=lambda tick: tick.moment)
            step = steps[seen.index(last)]
            return f"{section.number or section.title} step {step.mark}, looked at by {last.by}"
    return ""


def _from_force_on(section: Procedure) -> list[Step]:
    at = next((number for number, step in enumerate(section.steps) if forces(step)), None)
    return [] if at is None else list(section.steps[at:])


def _said_since(documents: Documents, heard: Heard, seen: Sequence[Tick]) -> bool:
    """Whether anything after the first step with force says that the joint holds, or is being closed."""
    began = min(tick.moment for tick in seen)
    if any(look.saw in STILL_IN and look.moment > began for look in heard.looks):
        return True
    if any(act.did == "put in" and act.moment > began for act in heard.acts):
        return True
    closing = Pairs(documents.machine).closing(documents.goals) if documents.machine else ()
    steps = {step.id for procedure in closing for step in procedure.steps}
    sections = {procedure.id for procedure in closing}
    ticked = [tick for name, tick in heard.steps.items() if name in steps]
    ticked += [tick for name, tick in heard.procedures.items() if name in sections]
    return any(tick.moment > began for tick in ticked)
