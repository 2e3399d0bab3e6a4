"""Words that say of parts that they are off ("flywheel and fan removed"): which parts, and how.

Only a plain statement counts. "Not", "unless", "before" and their like make it something else; it then stays
a line for a person to see to.
"""

import re

from msgspec import Struct

from lastbolt.planning.names import stems, words

_CLAUSE_END = re.compile(r"[,;:.]")
_WORD = re.compile(r"[a-z][a-z\-']+")


class SaidOff(Struct, frozen=True):
    """`parts`: the stems of each part that is said to be off. `deeds`: what can have brought that about.
    `more`: the words ask for something else as well."""

    parts: tuple[tuple[str, ...], ...] = ()
    deeds: tuple[str, ...] = ()
    more: bool = False


NOTHING = SaidOff()


def said_off(said: str) -> SaidOff:
    """The parts that these words say are off; none when they say it with a limit, or of no part.

    >>> said_off("The fuel tank must be drained").parts
    (('fuel', 'tank'),)
    """
    known = words()["is_off"]
    clauses = [_WORD.findall(clause) for clause in _CLAUSE_END.split(said.lower())]
    spoken = [clause for clause in clauses if clause]
    if not spoken or any(word in known["limits"] for clause in spoken for word in clause):
        return NOTHING
    for deed, phrases in known["by"].items():
        found = _split(spoken[0], phrases)
        if found is None:
            continue
        subject, tail = found
        if tail and tail[0] not in known["then"]:
            return NOTHING
        parts = tuple(stems(part) for part in re.split(r"\band\b", " ".join(subject)))
        if not all(parts):
            return NOTHING
        deeds = ("remove", "separate") if deed == "remove" else (deed,)
        return SaidOff(parts, deeds, bool(tail) or len(spoken) > 1)
    return NOTHING


def _split(clause: list[str], phrases: list[str]) -> tuple[list[str], list[str]] | None:
    """What stands before and behind the first of the phrases, without "must", "be" and the like."""
    for place in range(1, len(clause)):
        for phrase in phrases:
            spoken = phrase.split()
            if clause[place : place + len(spoken)] == spoken:
                between = words()["is_off"]["between"]
                subject = clause[:place]
                while subject and subject[-1] in between:
                    subject = subject[:-1]
                return subject, clause[place + len(spoken) :]
    return None
