"""The counts side by side: one row per size and length, one column per source of count."""

import re

from lastbolt.tally.build_papers import line_words
from lastbolt.tally.build_people import NOTHING_IN, Scene
from lastbolt.tally.layout import whole_kind
from lastbolt.tally.ledger import Ledger
from lastbolt.words.answer import CountTable
from lastbolt.words.evidence import EvidencePlace, Line
from lastbolt.words.quantity import Kind, Quantity

NOTHING = "–"
PLAIN_NUMBER = re.compile(r"\d+(?=$|\s\()")
"""A cell with one number, and perhaps who counted it."""


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
    heads = ("Size", *sources, "Manual steps", "Places", "Seen out", "Tray", "Engine file")
    rows = tuple(
        (
            kind.words(),
            *(_printed(lines, kind, source) for source in sources),
            _steps(scene, kind),
            *_places(scene, kind),
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
