"""Lines of the way back that say themselves that they come after the joint is together: "After joining, check
the end float". In the sources they stand in a section that is worked off before."""

from collections.abc import Mapping, Sequence

from lastbolt.planning.names import words
from lastbolt.words.back import BackLine
from lastbolt.words.machine import Procedure


def behind_joining(lines: Sequence[BackLine], procedures: Mapping[str, Procedure]) -> list[BackLine]:
    """The lines, each of those with what it requires behind the last line of the section that joins."""
    found = list(lines)
    for one in [one for one in found if _says_after(one)]:
        last = _joined_at(found, procedures, one)
        at = next(number for number, line in enumerate(found) if line is one)
        if last is None or last < at:
            continue
        block = _with_what_it_asks_for(found[: at + 1], one)
        behind = found[last]
        found = [line for line in found if all(line is not moved for moved in block)]
        place = next(number for number, line in enumerate(found) if line is behind)
        found[place + 1 : place + 1] = block
    return found


def _with_what_it_asks_for(lines: Sequence[BackLine], one: BackLine) -> list[BackLine]:
    """The line and those before it that stand there because it asks for them, in their order."""
    ids, more = {one.line.id}, {one.line.id}
    while more:
        more = {line.line.id for line in lines if line.line.required_by.line in more} - ids
        ids |= more
    return [line for line in lines if line.line.id in ids]


def _says_after(one: BackLine) -> bool:
    said = one.line.words.casefold()
    return one.line.kind == "step" and said.startswith(tuple(words()["way_back"]["after_joining"]))


def _joined_at(lines: Sequence[BackLine], procedures: Mapping[str, Procedure], one: BackLine) -> int | None:
    """The number of the last line of a section that joins, other than the line's own."""
    joins = [
        number
        for number, line in enumerate(lines)
        if line.line.procedure != one.line.procedure
        and (there := procedures.get(line.line.procedure)) is not None
        and there.deed == "join"
    ]
    return max(joins, default=None)
