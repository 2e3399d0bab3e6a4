"""One place of the joint as its walks and the engine's own file tell it."""

from collections.abc import Iterable

from lastbolt.words.answer import TakenAs
from lastbolt.words.engine import AsFound, Engine
from lastbolt.words.evidence import EvidencePlace
from lastbolt.words.joint import End, JointPlace

CLOSED = ("blind", "closed")
"""Words in the form of an end at which nothing goes in and nothing comes through."""


def facts_by_place(engine: Engine | None) -> dict[str, tuple[AsFound, ...]]:
    """What the engine's own file says of each place."""
    found: dict[str, tuple[AsFound, ...]] = {}
    for fact in engine.as_found if engine else ():
        if fact.place:
            found[fact.place] = (*found.get(fact.place, ()), fact)
    return found


def facts_of_no_place(engine: Engine | None) -> tuple[TakenAs, ...]:
    """Repairs and other facts of the engine's file that name no place, so that no place shows them."""
    facts = engine.as_found if engine else ()
    return tuple(
        TakenAs("", f"engine file, no place named: {fact.words}", fact.citations)
        for fact in facts
        if fact.what in ("insert", "other") and not fact.place
    )


def walked_place(place: JointPlace, earlier: EvidencePlace | None, facts: Iterable[AsFound]) -> EvidencePlace:
    """The place as a walk has it, with what an earlier walk and the engine's own file say of it."""
    facts = tuple(facts)
    odd = next((fact.kind for fact in facts if fact.what == "odd length" and fact.kind), None)
    kind = earlier.kind if earlier and earlier.kind else odd or place.kind
    lines = (*(earlier.lines if earlier else ()), *place.lines)
    told = [_side(place.ends), f"it lies under {place.under}" if place.under else ""]
    notes = (earlier.note if earlier else "", place.note)
    return EvidencePlace(
        place.id,
        place.label or place.id,
        kind,
        tuple(dict.fromkeys(lines)),
        "; ".join(words for words in told if words) or (earlier.words if earlier else ""),
        never_there=next((fact.words for fact in facts if fact.what == "missing"), ""),
        note="; ".join(dict.fromkeys(note for note in notes if note)),
        found=tuple(fact.words for fact in facts if fact.what in ("insert", "other", "extra")),
        blind=any(_closed(end) for end in place.ends),
    )


def _side(ends: tuple[End, ...]) -> str:
    """From which side the fastener enters, when only the far one is open."""
    sides = {end.side for end in ends if not _closed(end)}
    return "its fastener enters from the far side" if sides == {"far"} else ""


def _closed(end: End) -> bool:
    return any(word in end.form.lower() for word in CLOSED)
