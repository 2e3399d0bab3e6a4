"""The counts as the sheet shows them: per size what this engine should have, and beside it what was seen."""

import re
from collections.abc import Iterable

from msgspec import Struct

from lastbolt.app.pages import SizeShown
from lastbolt.app.places_by_size import PlacesBySize, said_of_places
from lastbolt.words.answer import CountTable, PlaceState
from lastbolt.words.engine import AsFound, Engine
from lastbolt.words.machine import Machine

NOTHING = "–"
NOT_PAPERS = ("Places", "Seen out", "Tray", "Engine file")
MAY = " (may)"
WHOLE = re.compile(r"(\d+) \([^(),]+\)")
"""A count of whole pieces over all trays, and who counted."""


class Change(Struct, frozen=True):
    """What the engine's own file changes in the number of one size; `words` says so."""

    by: int
    words: str


class Counted(Struct, frozen=True):
    """Sizes that belong to this joint, sentences on what does not agree, and sizes that only fit."""

    sizes: tuple[SizeShown, ...] = ()
    seen_otherwise: tuple[str, ...] = ()
    papers_differ: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()


def counts_shown(
    table: CountTable,
    machine: Machine,
    engine: Engine | None,
    labels: dict[str, str],
    places: PlacesBySize | None = None,
) -> Counted:
    """The table read for people; `labels`: place -> label; `places`: those of each size, where known."""
    changes = _changes(machine, engine, labels)
    sizes: list[SizeShown] = []
    seen_wrong: list[str] = []
    papers_wrong: list[str] = []
    may: list[str] = []
    for row in table.rows:
        cells = dict(zip(table.heads, row, strict=True))
        size = row[0]
        printed = {head: cells[head] for head in table.heads[1:] if head not in NOT_PAPERS}
        if only_fits(cells):
            may.append(f"{size} ({_listed(printed)})")
            continue
        numbers = {head: number for head, cell in printed.items() if (number := _number(cell)) is not None}
        here = places.get(size, ()) if places else ()
        shown = _size(size, cells, printed, numbers, changes.get(size, []), here)
        sizes.append(shown)
        named = f"{size[:1].upper()}{size[1:]}"
        beside = ", ".join(f"{head} {number}" for head, number in numbers.items())
        if shown.differs:
            tray = cells["Tray"].replace("; ", ", ")
            seen_wrong.append(f"{named}: {shown.expected} expected on this engine, in the tray {tray}.")
        if len(set(numbers.values())) > 1:
            papers_wrong.append(f"{named}: the papers do not agree: {beside}.")
    notes = [note for note in table.notes if not note.startswith('"may"')]
    if may:
        notes.append(f"Not counted here, because only their size fits this joint: {', '.join(may)}.")
    return Counted(tuple(sizes), tuple(seen_wrong), tuple(papers_wrong), tuple(notes))


def _size(
    size: str,
    cells: dict[str, str],
    printed: dict[str, str],
    numbers: dict[str, int],
    changes: list[Change],
    here: tuple[PlaceState, ...],
) -> SizeShown:
    own = _number(cells.get("Engine file", NOTHING))
    change = sum(one.by for one in changes)
    if own is not None and numbers and own <= change:
        own = None  # the file only adds to what the papers list
    expected = {own} if own is not None else {max(0, number + change) for number in numbers.values()}
    because = [listed] if (listed := _listed(printed)) else []
    if own is not None and changes and len(set(numbers.values())) > 1:
        because.append(f"taken as {own - change}")
    because += [one.words for one in changes]
    if own is not None and not changes:
        because.append(f"engine file {own}")
    tray = cells.get("Tray", NOTHING)
    whole = {int(match[1]) for part in tray.split("; ") if (match := WHOLE.fullmatch(part))}
    return SizeShown(
        size,
        " or ".join(str(number) for number in sorted(expected)) or "not said",
        "; ".join(because).removeprefix("plus ") or "no source says how many",
        _seen(cells, tray, here),
        differs=bool(expected and whole - expected),
    )


def _seen(cells: dict[str, str], tray: str, here: tuple[PlaceState, ...]) -> str:
    said = [f"tray {tray.replace('; ', ', ')}"] if tray != NOTHING else []
    places = cells.get("Places", NOTHING)
    if here and str(len(here)) == places:
        said.append(said_of_places(here))
    elif places != NOTHING:
        said.append(f"empty: {cells.get('Seen out', '0')} of {places} place{'' if places == '1' else 's'}")
    return "; ".join(said) or "nothing yet"


def only_fits(cells: dict[str, str]) -> bool:
    """Whether nothing but the size ties it to this joint, and nothing of it was seen; `cells` by head."""
    printed = {head: cell for head, cell in list(cells.items())[1:] if head not in NOT_PAPERS}
    said = [cell for head, cell in printed.items() if cell != NOTHING and head != "Manual steps"]
    unseen = all(cells.get(head, NOTHING) == NOTHING for head in NOT_PAPERS)
    return unseen and bool(said) and all(MAY in part for cell in said for part in cell.split(" + "))


def _number(cell: str) -> int | None:
    """The sum of plain numbers tied to this joint; None where there is none, or one is no plain number."""
    parts = [part for part in cell.split(" + ") if MAY not in part]
    return sum(map(int, parts)) if parts and all(part.isdecimal() for part in parts) else None


def _listed(printed: dict[str, str]) -> str:
    return ", ".join(f"{head} {cell.replace(MAY, '')}" for head, cell in printed.items() if cell != NOTHING)


def _changes(machine: Machine, engine: Engine | None, labels: dict[str, str]) -> dict[str, list[Change]]:
    """Size -> what this engine's file changes, like facts joined: "less 2 known missing (4, 9)"."""
    kinds = {row.id: row.kind.words() for row in machine.rows if row.kind}
    told: dict[tuple[str, int, str], list[AsFound]] = {}
    for fact in engine.as_found if engine else ():
        listed = kinds.get(fact.line or "")
        found = fact.kind.words() if fact.kind else listed
        if fact.what == "missing" and (size := listed or found):
            told.setdefault((size, -1, "known missing"), []).append(fact)
        elif fact.what == "extra" and found:
            told.setdefault((found, 1, "extra"), []).append(fact)
        elif fact.what == "odd length" and listed and found and listed != found:
            told.setdefault((listed, -1, f"exchanged for {found}"), []).append(fact)
            told.setdefault((found, 1, f"in place of {listed}"), []).append(fact)
    changes: dict[str, list[Change]] = {}
    for (size, sign, words), facts in told.items():
        count = sum(fact.count for fact in facts)
        at = _at(facts, labels)
        said = f"{'less' if sign < 0 else 'plus'} {count} {words}{f' (at {at})' if at else ''}"
        changes.setdefault(size, []).append(Change(sign * count, said))
    return changes


def _at(facts: Iterable[AsFound], labels: dict[str, str]) -> str:
    return ", ".join(labels.get(fact.place, fact.place) for fact in facts if fact.place)
