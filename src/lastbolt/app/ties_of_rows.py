"""Who says that a row of the parts list belongs to this joint: walks and typed lines, one tie a row."""

from collections.abc import Iterator, Mapping, Sequence

from msgspec.structs import replace

from lastbolt.tally.unused import ties_disagree
from lastbolt.words.joint import Tie, Walk
from lastbolt.words.problem import Problem


def ties_of_rows(walks: Sequence[Walk], line_of: Mapping[str, str]) -> dict[str, Tie]:
    """One tie for each row, with all places that anybody names.

    `line_of`: the row that stands for each of several that are one.
    """
    found: dict[str, Tie] = {}
    for row, tie in _by_row(walks, line_of):
        known = found.setdefault(row, tie)
        places = tuple(dict.fromkeys((*known.places, *tie.places)))
        found[row] = replace(known, wholly=known.wholly and tie.wholly, places=places)
    return found


def ties_differ(walks: Sequence[Walk], line_of: Mapping[str, str]) -> Iterator[Problem]:
    """A problem for each row that somebody says is wholly this joint's, and somebody else in part."""
    first: dict[str, Tie] = {}
    for row, tie in _by_row(walks, line_of):
        known = first.setdefault(row, tie)
        if known.wholly != tie.wholly:
            whole, part = (known, tie) if known.wholly else (tie, known)
            yield ties_disagree(row, whole.by, part.by)


def _by_row(walks: Sequence[Walk], line_of: Mapping[str, str]) -> Iterator[tuple[str, Tie]]:
    for walk in walks:
        for tie in walk.ties:
            yield line_of.get(tie.line, tie.line), tie
