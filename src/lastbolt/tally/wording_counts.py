"""The counts side by side: one row per size and length, one column per source of count."""

from collections.abc import Iterable

from lastbolt.tally.build_papers import line_words
from lastbolt.tally.build_people import Scene
from lastbolt.tally.layout import whole_kind
from lastbolt.tally.ledger import Ledger
from lastbolt.words.counts import CountSaid, CountTable, InTray, SizeCounts, SourceCounts
from lastbolt.words.evidence import EvidencePlace, Line
from lastbolt.words.joint import NO_HOLE, NOTHING_IN
from lastbolt.words.quantity import Kind, Quantity

NOTHING = "–"
STEPS, PLACES, SEEN_OUT, TRAY, ENGINE = "Manual steps", "Places", "Seen out", "Tray", "Engine file"
MAY = " (may)"
MAY_NOTE = '"may": nothing ties the row to this joint, only its size fits.'
MOST_SIZES = 3
"""Sizes named in the sentence."""


def count_table(ledger: Ledger, scene: Scene) -> CountTable:
    """Parts lists, manual steps, walked places, tray and engine file, per size and length."""
    lines = _lines(scene)
    sources = list({printed.source: None for line in lines for printed in line.printed})
    kinds, total = _kinds(scene, lines), in_all(scene)
    every = [place.id for place in scene.layout.places]
    sizes = tuple(
        SizeCounts(
            kind.words(),
            tuple(said for source in sources if (said := _by_source(lines, kind, source)).numbers),
            _steps(scene, kind),
            *(_seen_out(scene, every) if len(kinds) == 1 and total else _places(scene, kind)),
            _tray(ledger, scene, kind),
            tuple(x.on_engine for x in lines if whole_kind(x.kind) == kind and x.on_engine is not None),
        )
        for kind in kinds
    )
    heads = ("Size", *sources, STEPS, PLACES, SEEN_OUT, TRAY, ENGINE)
    notes = _notes(scene, lines, total if len(kinds) > 1 else ())
    return CountTable(heads, tuple(_row(size, sources) for size in sizes), notes, sizes)


def _lines(scene: Scene) -> list[Line]:
    """The rows that are counted: this joint's, and those whose thread fits a place of it."""
    threads = {kind.thread for place in scene.layout.places if (kind := _screwed(place))}
    listed = {line.id for line in scene.layout.lines if line.listed and not line.unnamed}
    return [
        line
        for line in scene.evidence.lines
        if line.id in listed
        and (line.belongs != "maybe" or not threads or line.kind.thread in (None, *threads))
    ]


def _kinds(scene: Scene, lines: list[Line]) -> list[Kind]:
    """Every size of these rows, of a place or of a tray, each once."""
    of_places = (kind for place in scene.layout.places if (kind := _screwed(place)))
    of_trays = (whole_kind(count.kind) for count in scene.evidence.counts if count.kind.what != "dowel")
    return list(dict.fromkeys((*(whole_kind(line.kind) for line in lines), *of_places, *of_trays)))


def _notes(scene: Scene, lines: list[Line], total: tuple[tuple[str, int], ...]) -> tuple[str, ...]:
    notes = [f"{_words_of(scene, line)}: {why}." for line, why in scene.layout.left_out]
    notes += [
        f"{line_words(line)}: no row gives the nuts, so as many nuts are looked for."
        for line in lines
        if line.kind.what == "stud"
    ]
    if len({number for _, number in total}) > 1:
        notes.append(f"In all: {', '.join(f'{name} {number}' for name, number in total)}.")
    if any(line.belongs == "maybe" for line in lines):
        notes.append(MAY_NOTE)
    return tuple(notes)


def _row(size: SizeCounts, sources: list[str]) -> tuple[str, ...]:
    by_source = {said.source: said.numbers for said in size.printed}
    return (
        size.size,
        *(numbers_words(by_source.get(source, ())) for source in sources),
        numbers_words(size.steps),
        NOTHING if size.places is None else str(size.places),
        NOTHING if size.seen_out is None else str(size.seen_out),
        "; ".join(map(tray_words, size.tray)) or NOTHING,
        " + ".join(map(str, size.engine)) or NOTHING,
    )


def numbers_words(numbers: Iterable[CountSaid]) -> str:
    """The numbers in one cell: "9 + 2 (may)"."""
    return " + ".join(f"{said.words}{MAY if said.may else ''}" for said in numbers) or NOTHING


def tray_words(counted: InTray) -> str:
    """ "7 heads (Ann, some trays)"."""
    heads = "" if counted.whole else " heads"
    some = "" if counted.all_trays else ", some trays"
    return f"{counted.pieces}{heads} ({counted.by}{some})"


def _screwed(place: EvidencePlace) -> Kind | None:
    """The size said to belong at a place; none for a dowel's."""
    if place.kind is None or place.kind.what == "dowel":
        return None
    return whole_kind(place.kind)


def quantity_words(quantity: Quantity) -> str:
    """A quantity in a cell of the table."""
    if quantity.low is None and quantity.high is None:
        return quantity.words or "no number"
    if quantity.low == quantity.high:
        return f"{quantity.low}{' ' + quantity.per if quantity.per in ('each', 'side', 'assembly') else ''}"
    if quantity.high is None:
        return f"{quantity.low} or more"
    return f"{quantity.low if quantity.low is not None else 0} to {quantity.high}"


def _words_of(scene: Scene, line_id: str) -> str:
    line = scene.lines.get(line_id)
    return line_words(line) if line else line_id


def _said(quantity: Quantity, *, may: bool = False) -> CountSaid:
    words = quantity_words(quantity)
    return CountSaid(words, int(words) if words.isdecimal() else None, may)


def _by_source(lines: list[Line], kind: Kind, source: str) -> SourceCounts:
    numbers = (
        _said(printed.quantity, may=line.belongs == "maybe")
        for line in lines
        for printed in line.printed
        if printed.source == source and whole_kind(printed.kind or line.kind) == kind
    )
    return SourceCounts(source, tuple(numbers))


def _steps(scene: Scene, kind: Kind) -> tuple[CountSaid, ...]:
    return tuple(
        _said(step.removes) for step in scene.evidence.steps if scene.kind_of(step.line, step.kind) == kind
    )


def _places(scene: Scene, kind: Kind) -> tuple[int | None, int | None]:
    here = [place.id for place in scene.layout.places if place.kind and whole_kind(place.kind) == kind]
    return _seen_out(scene, here)


def _seen_out(scene: Scene, here: list[str]) -> tuple[int | None, int | None]:
    """How many places there are, and at how many the fastener was seen out or taken out."""
    out = {
        look.place for look in scene.evidence.looks if look.place in here and look.saw in ("out", *NOTHING_IN)
    }
    out |= {place for place, act in scene.last_act.items() if place in here and act.did == "took out"}
    return (len(here), len(out)) if here else (None, None)


def _tray(ledger: Ledger, scene: Scene, kind: Kind) -> tuple[InTray, ...]:
    return tuple(
        InTray(count.pieces, ledger.who(count.by), count.complete_pieces, count.all_trays)
        for count in scene.evidence.counts
        if scene.kind_of(count.line, count.kind) == kind
    )


def in_all(scene: Scene) -> tuple[tuple[str, int], ...]:
    """The pieces on the one list, the places and the pieces in the tray, over all sizes together.

    Empty where places say what size goes there, or anything keeps the three from being the same number.
    """
    e = scene.evidence
    lines = [line for line in e.lines if line.kind.what != "dowel"]
    printed = [p for line in lines for p in line.printed]
    exact = [p.quantity.low for p in printed if p.quantity.low == p.quantity.high]
    numbers = [number for number in exact if number is not None]
    saws: dict[str, set[str]] = {}
    for look in e.looks:
        saws.setdefault(look.place, set()).add(look.saw)
    here = [place for place in scene.layout.places if not saws.get(place.id, set()) & set(NO_HOLE)]
    plain = len(numbers) == len(printed) == len(lines) and len({p.source for p in printed}) == 1
    hollow = any("hollow" in saw for told in saws.values() for saw in told)
    if not plain or hollow or not here or any(place.kind for place in scene.layout.places):
        return ()
    if any(line.belongs != "wholly" or line.kind.what == "stud" for line in lines):
        return ()
    counted = [count for count in e.counts if count.kind.what != "dowel"]
    once = len({count.kind for count in counted}) == len(counted)
    tray = (("tray", sum(count.pieces for count in counted)),) if counted and once else ()
    return (("list", sum(numbers)), ("places", len(here)), *tray)


def counts_in_short(table: CountTable, total: tuple[tuple[str, int], ...]) -> str:
    """The sizes whose plain numbers differ, and what differs over all of them; empty when nothing does.

    A size that others of its list have in the tray, and it has not, differs too.
    """
    counted = any(size.tray for size in table.sizes)
    told = []
    for size in table.sizes:
        if any(number.may for source in size.printed for number in source.numbers):
            continue
        said = {_short_head(head): number for head, number in _plain_numbers(size)}
        missing = counted and not size.tray and said
        if len(set(said.values())) > 1 or missing:
            numbers = [f"{head} {number}" for head, number in said.items()]
            told.append(f"{size.size}: {', '.join([*numbers, 'none in the tray'] if missing else numbers)}")
    if len(told) > MOST_SIZES:
        told = [*told[:MOST_SIZES], f"{len(told) - MOST_SIZES} more sizes"]
    if len({number for _, number in total}) > 1:
        one = f"{table.sizes[0].size}: " if len(table.sizes) == 1 else "in all "
        told = told if len(table.sizes) > 1 else []
        told.append(one + ", ".join(f"{name} {number}" for name, number in total))
    return "; ".join(told)


def _plain_numbers(size: SizeCounts) -> list[tuple[str, int]]:
    """Head and number of each source that gives just one, in the table's order; of the tray the first."""
    said = [*((one.source, one.numbers) for one in size.printed), (STEPS, size.steps)]
    found = [
        (head, numbers[0].exact)
        for head, numbers in said
        if len(numbers) == 1 and numbers[0].exact is not None
    ]
    found += [(TRAY, size.tray[0].pieces)] if size.tray and size.tray[0].whole else []
    return [*found, *((ENGINE, size.engine[0]) for _ in size.engine[:1] if len(size.engine) == 1)]


def _short_head(head: str) -> str:
    """ "typed list" -> "list"; others begin small."""
    short = head.removeprefix("typed ")
    return f"{short[0].lower()}{short[1:]}"


def differing_counts(table: CountTable) -> str:
    """ "M8x45: parts list 9, tray 7." for every size whose plain numbers differ; empty when none do."""
    told = []
    for size in table.sizes:
        said = _plain_numbers(size)
        if len({number for _, number in said}) > 1:
            said += [("seen out", size.seen_out)] if size.seen_out is not None else []
            ordered = sorted(said, key=lambda one: one[0] == TRAY)
            numbers = (f"{head[0].lower()}{head[1:]} {number}" for head, number in ordered)
            told.append(f"{size.size}: {', '.join(numbers)}")
    return f"The counts: {'; '.join(told)}." if told else ""
