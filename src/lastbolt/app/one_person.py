"""People whose names differ only in case or spaces are one person, and one witness."""

from msgspec.structs import replace

from lastbolt.app.typed_words import person_key
from lastbolt.words.evidence import Evidence


def one_person_each(evidence: Evidence) -> Evidence:
    """The evidence with everybody under one id, whatever way their name was written."""
    names = dict(evidence.people)
    said = (evidence.looks, evidence.rounds, evidence.acts, evidence.counts, evidence.steps)
    ids = dict.fromkeys([*names, *(item.by for group in said for item in group if item.by)])
    first: dict[str, str] = {}
    known_as = {one: first.setdefault(person_key(names.get(one) or one), one) for one in ids}
    if all(one == other for one, other in known_as.items()):
        return evidence
    known_as[""] = ""
    return replace(
        evidence,
        looks=tuple(replace(item, by=known_as[item.by]) for item in evidence.looks),
        rounds=tuple(replace(item, by=known_as[item.by]) for item in evidence.rounds),
        acts=tuple(replace(item, by=known_as[item.by]) for item in evidence.acts),
        counts=tuple(replace(item, by=known_as[item.by]) for item in evidence.counts),
        steps=tuple(replace(item, by=known_as[item.by]) for item in evidence.steps),
        people=tuple((one, name) for one, name in evidence.people if known_as[one] == one),
    )
