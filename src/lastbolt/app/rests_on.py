"""Whose word a clear answer rests on, and for what: "Imke (round), Radek (tray)"."""

from lastbolt.app.typed_words import NOBODY, person_key
from lastbolt.words.answer import Answer
from lastbolt.words.evidence import Evidence

ROLES = ("list", "round", "looks", "tray", "ticks")
UNNAMED_TOO = "what stands before the first name may be from one of them"


def rests_on(answer: Answer, evidence: Evidence | None = None) -> tuple[str, ...]:
    """The people named, each with what they did, if the evidence is at hand; nobody unnamed."""
    did = _roles(evidence) if evidence else {}
    people = [name for name in answer.witnesses if name != NOBODY]
    return tuple(
        f"{name} ({', '.join(roles)})" if (roles := did.get(person_key(name))) else name for name in people
    )


def rests_on_sentence(answer: Answer, evidence: Evidence | None = None) -> str:
    """Whose word it all rests on, in a sentence; empty if nobody's."""
    people = rests_on(answer, evidence)
    unnamed = NOBODY in answer.witnesses
    if not people and not unnamed:
        return ""
    if len(people) < 2:
        return f"It all rests on one person's word: {people[0] if people else NOBODY}."
    tail = f"; {UNNAMED_TOO}" if unnamed else ""
    return f"It rests on the word of {', '.join(people)}: different people, not one twice{tail}."


def _roles(evidence: Evidence) -> dict[str, list[str]]:
    """What each person did, by their name's key, in the order of `ROLES`."""
    e = evidence
    by_role = {
        "list": [by for line in e.lines for printed in line.printed for by in printed.by]
        + [by for read in e.lists for by in read.by],
        "round": [round_.by for round_ in e.rounds],
        "looks": [look.by for look in e.looks] + [act.by for act in e.acts],
        "tray": [count.by for count in e.counts],
        "ticks": [step.by for step in e.steps if step.state == "done"],
    }
    names = dict(e.people)
    found: dict[str, list[str]] = {}
    for role in ROLES:
        for key in dict.fromkeys(person_key(names.get(by) or by) for by in by_role[role]):
            if not (role == "looks" and "round" in found.get(key, [])):
                found.setdefault(key, []).append(role)
    return found
