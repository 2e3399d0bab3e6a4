"""Sections that make the machine safe stand at the head of a plan, where the sources' own order allows it."""

from collections.abc import Mapping, Sequence

from lastbolt.planning.names import any_of, words
from lastbolt.words.machine import Procedure
from lastbolt.words.plan import Line, RequiredBy


def makes_safe(title: str) -> bool:
    """Whether a title is of making safe: "Making the winch safe", "Isolating the drive".

    >>> makes_safe("Making the winch safe"), makes_safe("Isolating valve: removal")
    (True, False)
    >>> makes_safe("Securing the winch against starting"), makes_safe("Securing the engine on the stand")
    (True, False)
    """
    known = words()["safe"]
    said = title.lower().split()
    if said[:1] == [] or any(word.strip(",.:;()") in known["things"] for word in said[1:3]):
        return False
    if said[0] in known["secures"]:
        return bool(any_of(title, known["against"]))
    return said[0] in known["begins"] or (said[0] in known["makes"] and said[-1] in known["states"])


def safe_sections(lines: Sequence[Line], procedures: Mapping[str, Procedure]) -> tuple[Line, ...]:
    """The first line of each section that makes safe and is asked for in set-ups alone, all the way from the
    goal; none when they stand at the head already. `procedures`: by their ids."""
    heads = [line for line in lines if line.kind == "opening" or _whole(line)]
    by_id = {line.id: line for line in lines}
    begins: dict[str, str] = {}
    for line in lines:
        if line.kind == "step":
            begins.setdefault(line.procedure, line.id)
    safe = (head for head in heads if makes_safe(procedures[head.procedure].title))
    found = tuple(head for head in safe if _by_set_ups(head, by_id, begins))
    return () if found == tuple(heads[: len(found)]) else found


def _whole(line: Line) -> bool:
    return line.kind == "confirm" and line.id == line.procedure


def _by_set_ups(head: Line, by_id: Mapping[str, Line], begins: Mapping[str, str]) -> bool:
    """Whether nothing has to be done before it: every link to the goal is a set-up or a first sentence."""
    because: RequiredBy = head.required_by
    seen: set[str] = set()
    while because.line and because.line not in seen:
        seen.add(because.line)
        asker = by_id.get(because.line)
        if asker is None:
            return False
        if asker.kind == "step":
            if asker.mark or begins.get(asker.procedure) != asker.id:
                return False
            asker = by_id.get(asker.procedure)
        if asker is None or because.because == "part of":
            return False
        because = asker.required_by
    return because.because == "goal"
