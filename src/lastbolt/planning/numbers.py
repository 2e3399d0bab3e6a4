"""The number that people know a section by: its own, or that of the section it stands in."""

from msgspec.structs import replace

from lastbolt.words.machine import Machine, Procedure


def numbered(machine: Machine) -> Machine:
    """The machine with every procedure under a number where a section above it has one: "6.2" for the
    "Removal" that stands in 6.2."""
    if all(procedure.number for procedure in machine.procedures):
        return machine
    sections = {section.id: section for section in machine.sections}

    def of(procedure: Procedure) -> str:
        source, _, anchor = procedure.id.partition("/procedure/")
        here = sections.get(f"{source}/section/{anchor}")
        seen: set[str] = set()
        while here is not None and not here.number and here.id not in seen:
            seen.add(here.id)
            here = sections.get(here.parent or "")
        return here.number if here is not None else ""

    procedures = tuple(
        one if one.number or not (number := of(one)) else replace(one, number=number)
        for one in machine.procedures
    )
    return replace(machine, procedures=procedures)
