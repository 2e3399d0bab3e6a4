"""Screws of a joint that its own order leaves out, because another place of the sources tightens them."""

from collections.abc import Iterable, Iterator, Mapping

from lastbolt.app.plan_shown import torque_words
from lastbolt.app.torque_sizes import size_of_row
from lastbolt.planning.pairs import TOGETHER
from lastbolt.words.machine import Machine, Procedure, TorqueValue
from lastbolt.words.plan import Plan
from lastbolt.words.quantity import Kind
from lastbolt.words.where import where


def elsewhere(
    places: Iterable[tuple[str, Kind | None]], named: Iterable[Kind | None], machine: Machine, plan: Plan
) -> Mapping[str, str]:
    """By label what the sources say of each of these places, where they say something.

    Args:
        places: the labels that the order leaves out, with what goes in there
        named: what goes in at the places that it names: a size of theirs tells nothing of these
        machine: the model, prepared
        plan: its way back says which sections put back
    """
    taken = {_size(kind) for kind in named if kind is not None}
    found = {}
    for label, kind in places:
        if kind is None or kind.length_mm is None or _size(kind) in taken:
            continue
        said = [*_by_steps(kind, machine, plan), *_by_rows(kind, machine)]
        if said:
            found[label] = "; ".join(dict.fromkeys(said))
    return found


def _size(kind: Kind) -> tuple[str | None, float | None]:
    return kind.thread, kind.length_mm


def _by_steps(kind: Kind, machine: Machine, plan: Plan) -> Iterator[str]:
    """The steps of the way back that fit such a screw, with the torque there or in the step behind."""
    back = set(plan.way_back.procedures)
    for procedure in machine.procedures:
        if procedure.id in back:
            yield from _in_section(kind, procedure)


def _in_section(kind: Kind, procedure: Procedure) -> Iterator[str]:
    for at, step in enumerate(procedure.steps):
        fits = any(
            m.deed in TOGETHER and m.kind is not None and _size(m.kind) == _size(kind) for m in step.mentions
        )
        if not fits:
            continue
        behind = procedure.steps[at + 1] if at + 1 < len(procedure.steps) else None
        for one in (step, behind):
            if one is not None and one.torques and (one is step or "tighten" in one.deeds):
                cited = where(one.citations[0]) if one.citations else ""
                yield f"{procedure.number} step {one.mark}: {_values(one.torques)} [{cited}]"
                break


def _by_rows(kind: Kind, machine: Machine) -> Iterator[str]:
    for row in machine.torques:
        if _size(size_of_row(row)) == _size(kind):
            cited = row.citations or row.value.citations
            yield f"{row.what}: {_values((row.value,))} [{where(cited[0]) if cited else ''}]"


def _values(values: Iterable[TorqueValue]) -> str:
    return ", then ".join(torque_words(value) for value in values)
