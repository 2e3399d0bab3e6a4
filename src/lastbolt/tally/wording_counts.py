"""The counts side by side: one row per size and length, one column per source of count."""

import re

from lastbolt.tally.build_papers import line_words
from lastbolt.tally.build_people import Scene
from lastbolt.tally.layout import whole_kind
from lastbolt.tally.ledger import Ledger
from lastbolt.words.answer import CountTable
from lastbolt.words.evidence import EvidencePlace, Line
from lastbolt.words.joint import NO_HOLE, NOTHING_IN
from lastbolt.words.quantity import Kind, Quantity

NOTHING = "–"
PLAIN_NUMBER = re.compile(r"\d+(?=$|\s\()")
"""A cell with one number, and perhaps who counted it."""
MAY = "(may)"
MOST_SIZES = 3
"""Sizes named in the sentence."""


def count_table(ledger: Ledger, scene: Scene) -> CountTable:
    """Parts lists, manual steps, walked places, tray and engine file, per size and length."""
    evidence = scene.evidence
    threads = {kind.thread for place in scene.layout.places if (kind := _screwed(place))}
    listed = {line.id for line in scene.layout.lines if line.listed and not line.unnamed}
    lines = [
        line
        for line in evidence.lines
        if line.id in listed
        and (line.belongs != "maybe" or not threads or line.kind.thread in (None, *threads))
    ]
    sources = list({printed.source: None for line in lines for printed in line.printed})
    kinds = list(
        {
            **{whole_kind(line.kind): None for line in lines},
            **{kind: None for place in scene.layout.places if (kind := _screwed(place))},
            **{whole_kind(count.kind): None for count in evidence.counts if count.kind.what != "dowel"},
        }
    )
    total, every = in_all(scene), [place.id for place in scene.layout.places]
    heads = ("Size", *sources, "Manual steps", "Places", "Seen out", "Tray", "Engine file")
    rows = tuple(
        (
            kind.words(),
            *(_printed(lines, kind, source) for source in sources),
            _steps(scene, kind),
            *(_seen_out(scene, every) if len(kinds) == 1 and total else _places(scene, kind)),
            _tray(ledger, scene, kind),
            _engine(lines, kind),
        )
        for kind in kinds
    )
    notes = [f"{_words_of(scene, line)}: {why}." for line, why in scene.layout.left_out]
    notes += [
        f"{line_words(line)}: no row gives the nuts, so as many nuts are looked for."
        for line in lines
        if line.kind.what == "stud"
    ]
    if len(kinds) > 1 and len({number for _, number in total}) > 1:
        notes.append(f"In all: {', '.join(f'{name} {number}' for name, number in total)}.")
    maybe = [line for line in lines if line.belongs == "maybe"]
    if maybe:
        notes.append('"may": nothing ties the row to this joint, only its size fits.')
    return CountTable(heads, rows, tuple(notes))


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


def _printed(lines: list[Line], kind: Kind, source: str) -> str:
    cells = [
        quantity_words(printed.quantity) + (" (may)" if line.belongs == "maybe" else "")
        for line in lines
        for printed in line.printed
        if printed.source == source and whole_kind(printed.kind or line.kind) == kind
    ]
    return " + ".join(cells) or NOTHING


def _steps(scene: Scene, kind: Kind) -> str:
    cells = [
        quantity_words(step.removes)
        for step in scene.evidence.steps
        if scene.kind_of(step.line, step.kind) == kind
    ]
    return " + ".join(cells) or NOTHING


def _places(scene: Scene, kind: Kind) -> tuple[str, str]:
    here = [place.id for place in scene.layout.places if place.kind and whole_kind(place.kind) == kind]
    return _seen_out(scene, here)


def _seen_out(scene: Scene, here: list[str]) -> tuple[str, str]:
    """How many places there are, and at how many the fastener was seen out or taken out."""
    out = {
        look.place for look in scene.evidence.looks if look.place in here and look.saw in ("out", *NOTHING_IN)
    }
    out |= {place for place, act in scene.last_act.items() if place in here and act.did == "took out"}
    return (str(len(here)), str(len(out))) if here else (NOTHING, NOTHING)


def _tray(ledger: Ledger, scene: Scene, kind: Kind) -> str:
    cells = []
    for count in scene.evidence.counts:
        if scene.kind_of(count.line, count.kind) == kind:
            heads = "" if count.complete_pieces else " heads"
            some = "" if count.all_trays else ", some trays"
            cells.append(f"{count.pieces}{heads} ({ledger.who(count.by)}{some})")
    return "; ".join(cells) or NOTHING


def _engine(lines: list[Line], kind: Kind) -> str:
    cells = [str(x.on_engine) for x in lines if whole_kind(x.kind) == kind and x.on_engine is not None]
    return " + ".join(cells) or NOTHING


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
    tray, places = table.heads.index("Tray"), ("Places", "Seen out")
    counted = any(row[tray] != NOTHING for row in table.rows)
    told = []
    for row in table.rows:
        named = zip(table.heads[1:], row[1:], strict=True)
        said = {
            _short_head(head): match[0]
            for head, cell in named
            if head not in places and (match := PLAIN_NUMBER.match(cell))
        }
        if any(MAY in cell for cell in row):
            continue
        missing = counted and row[tray] == NOTHING and said
        if len(set(said.values())) > 1 or missing:
            numbers = [f"{head} {number}" for head, number in said.items()]
            told.append(f"{row[0]}: {', '.join([*numbers, 'none in the tray'] if missing else numbers)}")
    if len(told) > MOST_SIZES:
        told = [*told[:MOST_SIZES], f"{len(told) - MOST_SIZES} more sizes"]
    if len({number for _, number in total}) > 1:
        one = f"{table.rows[0][0]}: " if len(table.rows) == 1 else "in all "
        told = told if len(table.rows) > 1 else []
        told.append(one + ", ".join(f"{name} {number}" for name, number in total))
    return "; ".join(told)


def _short_head(head: str) -> str:
    """ "typed list" -> "list"; others begin small."""
    short = head.removeprefix("typed ")
    return f"{short[0].lower()}{short[1:]}"


def differing_counts(table: CountTable) -> str:
    """ "M8x45: parts list 9, tray 7." for every size whose plain numbers differ; empty when none do."""
    told = []
    for row in table.rows:
        said = [
            (head, match[0])
            for head, cell in zip(table.heads[1:], row[1:], strict=True)
            if head not in ("Places", "Seen out") and (match := PLAIN_NUMBER.match(cell))
        ]
        if len({number for _, number in said}) > 1:
            seen = row[table.heads.index("Seen out")]
            said += [("seen out", seen)] if seen != NOTHING else []
            told.append((row[0], sorted(said, key=lambda one: one[0] == "Tray")))
    sentences = [
        f"{size}: {', '.join(f'{head[0].lower()}{head[1:]} {number}' for head, number in said)}"
        for size, said in told
    ]
    return f"The counts: {'; '.join(sentences)}." if sentences else ""
