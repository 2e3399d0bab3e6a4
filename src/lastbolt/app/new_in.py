"""Which of the parts that must be new went in already, and who says so."""

from collections.abc import Iterable

from lastbolt.words.job import FoundBad, Job, Renewed
from lastbolt.words.plan import NewPart
from lastbolt.words.standing import standing


def renewed_by(parts: Iterable[NewPart], job: Job | None) -> tuple[str, ...]:
    """For each part who put the new one in; "" where nobody did, or where it was found bad since."""
    return tuple(_by(part, job) for part in parts)


def _by(part: NewPart, job: Job | None) -> str:
    by = ""
    for _, event in standing(job):
        if isinstance(event, Renewed) and _is(event.part, event.row, event.part_number, part):
            by = event.by
        elif isinstance(event, FoundBad) and _is(event.part, event.row, "", part):
            by = ""
    return by


def _is(name: str, row: str, number: str, part: NewPart) -> bool:
    """Whether an event speaks of this part: by its row, else by its number, else by its name."""
    if row and part.rows:
        return row in part.rows
    if number and part.part_numbers:
        return number in part.part_numbers
    return name.strip().casefold() == part.part.casefold()
