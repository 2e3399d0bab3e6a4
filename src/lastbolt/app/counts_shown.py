"""The counts as the sheet shows them: per size what this engine should have, and beside it what was seen."""

from collections.abc import Iterable, Mapping

from msgspec import Struct

from lastbolt.app.pages import SizeShown
from lastbolt.app.places_by_size import PlacesBySize, said_of_places
from lastbolt.tally.wording_counts import MAY_NOTE, STEPS, tray_words
from lastbolt.words.answer import PlaceState
from lastbolt.words.counts import CountSaid, CountTable, SizeCounts
from lastbolt.words.engine import AsFound, Engine
from lastbolt.words.machine import Machine

Said = Mapping[str, tuple[CountSaid, ...]]
"""What the papers say of a size: head of the column -> numbers."""


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
    for counts in table.sizes:
        printed = _on_paper(counts)
        if counts.only_fits:
            may.append(f"{counts.size} ({_listed(printed)})")
            continue
        numbers = {head: number for head, said in printed.items() if (number := _sum(said)) is not None}
        here = places.get(counts.size, ()) if places else ()
        shown = _size(counts, printed, numbers, changes.get(counts.size, []), here)
        sizes.append(shown)
        named = f"{counts.size[:1].upper()}{counts.size[1:]}"
        beside = ", ".join(f"{head} {number}" for head, number in numbers.items())
        if shown.differs:
            tray = _tray(counts)
            seen_wrong.append(f"{named}: {shown.expected} expected on this engine, in the tray {tray}.")
        if len(set(numbers.values())) > 1:
            papers_wrong.append(f"{named}: the papers do not agree: {beside}.")
    notes = [note for note in table.notes if note != MAY_NOTE]
    if may:
        notes.append(f"Not counted here, because only their size fits this joint: {', '.join(may)}.")
    return Counted(tuple(sizes), tuple(seen_wrong), tuple(papers_wrong), tuple(notes))


def _on_paper(counts: SizeCounts) -> Said:
    said = {source.source: source.numbers for source in counts.printed}
    return {**said, STEPS: counts.steps} if counts.steps else said


def _size(
    counts: SizeCounts,
    printed: Said,
    numbers: Mapping[str, int],
    changes: list[Change],
    here: tuple[PlaceState, ...],
) -> SizeShown:
    own = sum(counts.engine) if counts.engine else None
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
    whole = {counted.pieces for counted in counts.tray if counted.whole and counted.all_trays}
    return SizeShown(
        counts.size,
        " or ".join(str(number) for number in sorted(expected)) or "not said",
        "; ".join(because).removeprefix("plus ") or "no source says how many",
        _seen(counts, here),
        differs=bool(expected and whole - expected),
    )


def _seen(counts: SizeCounts, here: tuple[PlaceState, ...]) -> str:
    said = [f"tray {_tray(counts)}"] if counts.tray else []
    if here and len(here) == counts.places:
        said.append(said_of_places(here))
    elif counts.places is not None:
        out = counts.seen_out or 0
        said.append(f"empty: {out} of {counts.places} place{'' if counts.places == 1 else 's'}")
    return "; ".join(said) or "nothing yet"


def _tray(counts: SizeCounts) -> str:
    return ", ".join(map(tray_words, counts.tray))


def _sum(said: Iterable[CountSaid]) -> int | None:
    """The sum of plain numbers tied to this joint; None where there is none, or one is no plain number."""
    numbers = [number.exact for number in said if not number.may]
    plain = [number for number in numbers if number is not None]
    return sum(plain) if plain and len(plain) == len(numbers) else None


def _listed(printed: Said) -> str:
    return ", ".join(
        f"{head} {' + '.join(number.words for number in said)}" for head, said in printed.items()
    )


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
