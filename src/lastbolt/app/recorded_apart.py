"""Whether the record says that the joint is apart already, so that nothing is left to pull.

Only what somebody looked at says so, step by step, from the first one with force to the last of the section
that parts the joint; and nothing that came after may say otherwise.
"""

from collections.abc import Iterable, Sequence

from lastbolt.app.gather_documents import Documents
from lastbolt.app.gather_job import Heard, Tick
from lastbolt.planning.force import forces
from lastbolt.planning.pairs import Pairs
from lastbolt.words.evidence import Act, Look
from lastbolt.words.machine import Procedure, Step

STILL_IN = ("in", "slack", "broken off", "hollow dowel, bolt in")


def recorded_apart(documents: Documents, heard: Heard) -> str:
    """The last step of the parting and who looked, "6.4 step 9, looked at by Lio"; empty while it is not.

    Where several sections part something, nobody knows which of them is this joint: all must be through.
    """
    machine = documents.machine
    parting = [one for one in machine.procedures if one.id in documents.goals] if machine else []
    steps = {step.id: (section, step) for section in parting for step in _from_force_on(section)}
    ticks = {name: tick for name in steps if (tick := heard.steps.get(name)) and tick.done and tick.looked}
    if not ticks or len(ticks) < len(steps) or _said_since(documents, heard, tuple(ticks.values())):
        return ""
    last = max(ticks, key=lambda name: ticks[name].moment)
    section, step = steps[last]
    return f"{section.number or section.title} step {step.mark}, looked at by {ticks[last].by}"


def speaks_against(looks: Iterable[Look], acts: Iterable[Act]) -> bool:
    """Whether looks and acts that came after say that something is in."""
    return any(look.saw in STILL_IN for look in looks) or any(act.did == "put in" for act in acts)


def _from_force_on(section: Procedure) -> list[Step]:
    at = next((number for number, step in enumerate(section.steps) if forces(step)), None)
    return list(section.steps[at or 0 :])


def _said_since(documents: Documents, heard: Heard, seen: Sequence[Tick]) -> bool:
    """Whether anything after the first step with force says that the joint holds, or is being closed."""
    began = min(tick.moment for tick in seen)
    looks = (look for look in heard.looks if look.moment > began)
    if speaks_against(looks, (act for act in heard.acts if act.moment > began)):
        return True
    closing = Pairs(documents.machine).closing(documents.goals) if documents.machine else ()
    steps = {step.id for procedure in closing for step in procedure.steps}
    sections = {procedure.id for procedure in closing}
    ticked = [tick for name, tick in heard.steps.items() if name in steps]
    ticked += [tick for name, tick in heard.procedures.items() if name in sections]
    return any(tick.moment > began for tick in ticked)
