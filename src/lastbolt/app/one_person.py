"""People whose names differ only in case or spaces are one person, and one witness.

So are all who are not named; and when one person alone is named, nobody says that the unnamed one is another.
"""

from msgspec.structs import replace

from lastbolt.app.gather_job import NOT_NAMED
from lastbolt.app.typed_words import NOBODY, person_key
from lastbolt.words.evidence import Evidence, Line

UNNAMED = ""
NOT_NAMES = (NOBODY, NOT_NAMED)
"""The ids of whoever typed before any name, and of whoever an event does not name."""


def one_person_each(evidence: Evidence) -> Evidence:
    """The evidence with everybody under one id, whatever way their name was written."""
    names = dict(evidence.people)
    said = (evidence.looks, evidence.rounds, evidence.acts, evidence.counts, evidence.steps)
    copied = [printed.by for line in evidence.lines for printed in line.printed]
    copied += [read.by for read in evidence.lists]
    spoke = [*(item.by for group in said for item in group), *(by for group in copied for by in group)]
    ids = dict.fromkeys([*names, *(by for by in spoke if by)])
    first: dict[str, str] = {}
    known_as = {one: first.setdefault(_told_apart_by(one, names), one) for one in ids}
    named = [key for key in first if key != UNNAMED]
    if len(named) == 1 and UNNAMED in first:
        known_as = dict.fromkeys(ids, first[named[0]])
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
