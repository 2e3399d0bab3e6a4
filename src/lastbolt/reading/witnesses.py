"""Rows of one parts list that came in two forms (PDF and CSV): one row with both citations, or a problem.

Where the two forms disagree both rows stay, each with its own count and size: which file was named first must
not decide which of the two is believed.
"""

from collections.abc import Iterable, Mapping

import msgspec

from lastbolt.reading.problems import Reporter
from lastbolt.words.machine import PartsRow
from lastbolt.words.problem import Problem
from lastbolt.words.quantity import Kind, Quantity


def same_number(one: str, two: str) -> bool:
    """Whether two part numbers are one, spaces, points and hyphens aside; a missing one fits any."""
    bare = ["".join(c for c in text if c.isalnum()).upper() for text in (one, two)]
    return not all(bare) or bare[0] == bare[1]


def merged_rows(rows: Iterable[PartsRow], titles: Mapping[str, str]) -> tuple[list[PartsRow], list[Problem]]:
    """The rows of all sources; same figure, item, part number, count and size: one row, all witnesses."""
    kept: list[PartsRow] = []
    places: dict[tuple[str, str], list[int]] = {}
    problems: list[Problem] = []
    for row in rows:
        key = (row.figure.strip().lstrip("0"), row.item.strip().lstrip("0"))
        twins = [i for i in places.get(key, []) if _one_row(kept[i], row)] if row.item else []
        agreeing = next((i for i in twins if not _differences(kept[i], row)), None)
        if agreeing is not None:
            kept[agreeing] = _both(kept[agreeing], row)
            continue
        doubts = [row.doubt]
        for i in twins:
            problems += _disagreements(kept[i], row, titles)
            doubts.append(doubt := _doubt(kept[i], row))
            kept[i] = msgspec.structs.replace(kept[i], doubt=kept[i].doubt or doubt)
        places.setdefault(key, []).append(len(kept))
        kept.append(msgspec.structs.replace(row, doubt=next(filter(None, doubts), "")))
    return kept, problems


def _one_row(kept: PartsRow, row: PartsRow) -> bool:
    """Whether a row of another source is the same line of the list."""
    if kept.source == row.source or any(c.source == row.source for c in kept.citations):
        return False
    if not same_number(kept.part_number, row.part_number):
        return False
    if not row.figure.strip() and not (kept.part_number and row.part_number):
        return False  # "item 3" of two lists without figures may be two things
    return set(kept.applies.variants) == set(row.applies.variants) or not (
        kept.applies.variants and row.applies.variants
    )


def _both(kept: PartsRow, row: PartsRow) -> PartsRow:
    quantity = kept.quantity if kept.quantity.kind != "unsaid" else row.quantity
    kind = kept.kind if kept.kind is not None and kept.kind.thread else row.kind or kept.kind
    return msgspec.structs.replace(
        kept,
        quantity=quantity,
        kind=kind,
        remarks=kept.remarks or row.remarks,
        part_number=kept.part_number or row.part_number,
        renew=kept.renew or row.renew,
        citations=(*kept.citations, *row.citations),
        doubt=kept.doubt or row.doubt,
    )


def _counts(quantity: Quantity) -> tuple[str, int | None, int | None]:
    return quantity.kind, quantity.low, quantity.high


def _size(kind: Kind | None) -> tuple[str | None, float | None] | None:
    return None if kind is None or kind.thread is None else (kind.thread, kind.length_mm)


def _differences(kept: PartsRow, row: PartsRow) -> list[str]:
    """What the two say otherwise, each in words."""
    found: list[str] = []
    if "unsaid" not in (kept.quantity.kind, row.quantity.kind) and _counts(kept.quantity) != _counts(
        row.quantity
    ):
        found.append(f"{kept.quantity.words or 'a count'} against {row.quantity.words or 'a count'}")
    one, two = _size(kept.kind), _size(row.kind)
    if one and two and one != two and kept.kind and row.kind:
        found.append(f"{kept.kind.words()} against {row.kind.words()}")
    return found


def _doubt(kept: PartsRow, row: PartsRow) -> str:
    return f"the two forms of the list say {' and '.join(_differences(kept, row))}".replace(
        " against ", " and "
    )


def _disagreements(kept: PartsRow, row: PartsRow, titles: Mapping[str, str]) -> list[Problem]:
    problems: list[Problem] = []
    for difference in _differences(kept, row):
        reporter = Reporter(titles.get(kept.source, kept.source))
        other = titles.get(row.source, row.source)
        what = f'Figure {kept.figure}, item {kept.item} ("{kept.name}"): {difference} in {other}.'
        reporter.add(
            "LB-R12",
            what,
            "Find out which is right; until then both are kept.",
            (*kept.citations, *row.citations),
        )
        problems += reporter.found
    return problems
