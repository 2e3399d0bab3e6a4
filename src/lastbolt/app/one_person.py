"""People whose names differ only in case or spaces are one person, and one witness.

So are all who are not named; and when people are named, nobody says that the unnamed one is another. What
holds must hold whichever of them it is.
"""

from msgspec.structs import replace

from lastbolt.app.gather_job import NOT_NAMED
from lastbolt.app.typed_words import NOBODY, person_key
from lastbolt.words.evidence import Evidence, Line

UNNAMED = ""
SEVERAL = 2
NOT_NAMES = (NOBODY, NOT_NAMED)
"""The ids of whoever typed before any name, and of whoever an event does not name."""


def whoever_it_was(evidence: Evidence) -> tuple[Evidence, ...]:
    """The evidence, each person under one id, once for each person that the unnamed one may be.

    First with them as a further person; only once if nobody is unnamed, or fewer than two are named.
    """
    names = dict(evidence.people)
    people = {_told_apart_by(one, names): one for one in reversed(_who_spoke(evidence))}
    named = [key for key in reversed(people) if key != UNNAMED]
    if UNNAMED not in people or len(named) < SEVERAL:
        return (one_person_each(evidence),)
    return (one_person_each(evidence), *(one_person_each(evidence, key) for key in named))


def _who_spoke(evidence: Evidence) -> tuple[str, ...]:
    """Ids of all whose word something rests on, and of those who have a name."""
    said = (evidence.looks, evidence.rounds, evidence.acts, evidence.counts, evidence.steps)
    copied = [printed.by for line in evidence.lines for printed in line.printed]
    copied += [read.by for read in evidence.lists]
    copied.append(tuple(line.tied_by for line in evidence.lines if line.tied_by in NOT_NAMES))
    spoke = [*(item.by for group in said for item in group), *(by for group in copied for by in group)]
    return tuple(by for by in dict.fromkeys([*dict(evidence.people), *spoke]) if by)


def one_person_each(evidence: Evidence, unnamed_is: str = "") -> Evidence:
    """The evidence with everybody under one id, whatever way their name was written.

    `unnamed_is`: the key of the person that the unnamed one is taken to be.
    """
    names = dict(evidence.people)
    ids = _who_spoke(evidence)
    first: dict[str, str] = {}
    known_as = {one: first.setdefault(_told_apart_by(one, names), one) for one in ids}
    named = [key for key in first if key != UNNAMED]
    if UNNAMED in first and (len(named) == 1 or unnamed_is in named):
        them = first[unnamed_is or named[0]]
        known_as = {one: them if other == first[UNNAMED] else other for one, other in known_as.items()}
    by_name = {key: known_as[one] for key, one in first.items()}
    known_as |= {
        tied: by_name[key]
        for line in evidence.lines
        if (tied := line.tied_by) not in known_as and (key := _told_apart_by(tied, names)) in by_name
    }
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
        lines=tuple(_copied_by(line, known_as) for line in evidence.lines),
        lists=tuple(
            replace(read, by=tuple(known_as.get(by, by) for by in read.by)) for read in evidence.lists
        ),
        people=tuple((one, name) for one, name in evidence.people if known_as[one] == one),
    )


def _told_apart_by(one: str, names: dict[str, str]) -> str:
    return UNNAMED if one in NOT_NAMES else person_key(names.get(one) or one)


def _copied_by(line: Line, known_as: dict[str, str]) -> Line:
    """The line with whoever ties, counts or copied it under the one id."""
    printed = tuple(
        replace(one, by=tuple(known_as.get(by, by) for by in one.by)) if one.by else one
        for one in line.printed
    )
    tied, engine = line.tied_by, line.on_engine_by
    return replace(
        line,
        printed=printed,
        tied_by=known_as.get(tied, tied),
        on_engine_by=known_as.get(engine, engine),
    )
