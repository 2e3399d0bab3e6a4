"""What people put right in the model, where planning has to know of it."""

from collections.abc import Container

from msgspec.structs import replace

from lastbolt.words.machine import Machine, Procedure, PutRight, Reference
from lastbolt.words.plan import LeftOut


def with_names_settled(machine: Machine) -> Machine:
    """The machine without the references by name that a person set aside; others lead where they say."""
    settled = {one.fact: one for one in machine.put_right if one.aside or one.to}
    if not settled:
        return machine
    return replace(machine, procedures=tuple(_procedure(one, settled) for one in machine.procedures))


def _procedure(procedure: Procedure, settled: dict[str, PutRight]) -> Procedure:
    steps = tuple(
        replace(step, references=_references(step.references, settled)) if step.references else step
        for step in procedure.steps
    )
    return replace(procedure, steps=steps, before=_references(procedure.before, settled))


def _references(references: tuple[Reference, ...], settled: dict[str, PutRight]) -> tuple[Reference, ...]:
    return tuple(
        _settled(one, settled.get(one.id))
        for one in references
        if one.id not in settled or not settled[one.id].aside
    )


def _settled(reference: Reference, said: PutRight | None) -> Reference:
    if said is None or not said.to:
        return reference
    role = "before" if said.first else reference.role
    return replace(reference, to=said.to, status="resolved", role=role)


def put_right_in(machine: Machine, procedures: Container[str]) -> tuple[PutRight, ...]:
    """What was put right in these procedures, and in tables and lists, which may belong to any."""
    return tuple(one for one in machine.put_right if not one.under or one.under in procedures)


def put_aside(machine: Machine, procedures: Container[str]) -> tuple[LeftOut, ...]:
    """The references in these procedures that a person said ask for nothing."""
    return tuple(
        LeftOut(one.fact, one.words, one.reason, one.by, one.correction, one.citations)
        for one in machine.put_right
        if one.aside and one.under in procedures
    )
