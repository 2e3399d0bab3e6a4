"""What the rows of a joint come to together, where each may be printed with several counts."""

from collections.abc import Sequence

from lastbolt.app.other_numbers import counts_of
from lastbolt.words.evidence import Line

MOST_ROWS = 12


def sums(counts: Sequence[set[int]]) -> set[int]:
    """Every total, each row by one of its counts; none where a row has none, or there are too many rows."""
    if not counts or len(counts) > MOST_ROWS:
        return set()
    found = {0}
    for some in counts:
        found = {total + count for total in found for count in some}
    return found


def every_count(lines: Sequence[Line]) -> list[int]:
    """Every count of each line, and what all of them come to."""
    by_line = [counts_of(line) for line in lines]
    return [*(count for some in by_line for count in some), *sums([set(some) for some in by_line])]
