"""What papers claim: printed counts, ties to the joint, lists read to their end, steps, the engine file.

Every claim here can also be wrong because this engine is not as its papers say; the engine's own file
replaces the papers for the lines it speaks of. Ranges become bounds; "as required" claims nothing.
"""

from collections import Counter
from collections.abc import Iterable

from lastbolt.tally.layout import ELSEWHERE, Layout
from lastbolt.tally.ledger import Ledger, cited
from lastbolt.words.claims import Sense
from lastbolt.words.evidence import Evidence, Line, Printed, StepSaid
from lastbolt.words.quantity import Quantity

Relations = tuple[tuple[Sense, int], ...]
ALL_OF_A_FIGURE = ("figure", "")


def say_papers(ledger: Ledger, layout: Layout, evidence: Evidence) -> None:
    """Adds every claim of a paper to the ledger."""
    tallied = {line.id for line in layout.lines if line.listed}
    lines = [line for line in evidence.lines if line.id in tallied]
    shared = Counter(
        [p.lineage for line in lines if line.on_engine is None for p in line.printed]
        + [step.lineage for step in evidence.steps if relations(step.removes)]
    )
    readings = Counter(
        p.reading for line in lines if line.on_engine is None for p in line.printed if p.reading
    )
    for line in lines:
        _say_counts(ledger, layout, line, (shared, readings))
        _say_tie(ledger, layout, line)
    for line in lines:
        if line.on_engine is not None:
            _say_engine_file(ledger, layout, line, [other for other in lines if other.on_engine is not None])
    _say_lists(ledger, layout, evidence)
    spoken_for = {line.id for line in lines if line.on_engine is not None}
    for step in evidence.steps:
        if step.line not in spoken_for:
            _say_removes(ledger, layout, step, shared)


def relations(quantity: Quantity) -> Relations:
    """The bounds that a printed quantity puts on a number of pieces; none when it gives no number.

    A quantity "each", "per side" or "per assembly" is only a lower bound: how many of those is not said.
    """
    low, high = quantity.low, quantity.high
    if quantity.kind in ("as required", "remaining", "unsaid") or (low is None and high is None):
        return ()
    if quantity.kind == "at least" or quantity.per not in ALL_OF_A_FIGURE:
        least = low if low is not None else high
        return ((">=", least),) if least is not None else ()
    if low is not None and low == high:
        return (("=", low),)
    bounds: list[tuple[Sense, int]] = []
    if low is not None:
        bounds.append((">=", low))
    if high is not None:
        bounds.append(("<=", high))
    return tuple(bounds)


def pieces_of(
    layout: Layout, lines: frozenset[str], spots: Iterable[str], sides: tuple[str, ...]
) -> list[str]:
    """The unknowns of some lines at some spots."""
    return [name for spot in spots for side in sides for name in layout.at(side, spot, lines)]


BOTH = ("in", "out")


def _say_counts(
    ledger: Ledger, layout: Layout, line: Line, counters: tuple[Counter[str], Counter[str]]
) -> None:
    if line.on_engine is not None:
        return
    pieces = pieces_of(layout, frozenset((line.id,)), layout.spots, BOTH)
    for number, printed in enumerate(line.printed):
        if printed.kind is not None:
            continue  # It prints another size under this item: which of the two it counts is open.
        causes = _printed_causes(ledger, line, printed, number, counters)
        words = cited(
            f"{line_words(line)}: {printed.quantity.words or _count(printed.quantity)}", printed.citation
        )
        for relation in relations(printed.quantity):
            for who in _readers(ledger, printed.by):
                ledger.claim("prints", pieces, relation, [*causes, *who], words)


def _printed_causes(
    ledger: Ledger,
    line: Line,
    printed: Printed,
    number: int,
    counters: tuple[Counter[str], Counter[str]],
) -> list[str]:
    lineages, readings = counters
    where = cited(f"{printed.source}, {line_words(line)}", printed.citation)
    causes = [
        ledger.cause(
            "misprint", printed.source, line.id, str(number), words=f"misprinted or misread: {where}"
        )
    ]
    if readings[printed.reading] > 1:
        causes.append(
            ledger.cause("misreading", printed.reading, words=f"misread throughout: {printed.reading}")
        )
    if lineages[printed.lineage] > 1:
        causes.append(ledger.lineage(printed.lineage))
    return [*causes, ledger.engine()]


def _readers(ledger: Ledger, by: tuple[str, ...]) -> list[list[str]]:
    """For each claim that a paper makes through people: the root of who copied it; none through a program."""
    return [[ledger.person(person)] for person in dict.fromkeys(by)] or [[]]


def _say_tie(ledger: Ledger, layout: Layout, line: Line) -> None:
    """`wholly`: nothing of the line elsewhere. `partly`: at least one piece of it here."""
    if line.belongs == "maybe":
        return
    who = line.tied_by or "the papers"
    words = f"{line_words(line)} is wrongly tied to this joint ({ledger.people.get(who, who)})"
    causes = [ledger.cause("wrongly tied", line.id, words=words), ledger.engine()]
    if line.tied_by in ledger.people:
        causes.append(ledger.person(line.tied_by))
    if line.tied_lineage:
        causes.append(ledger.lineage(line.tied_lineage))
    if line.tied_reading:
        reading = line.tied_reading
        causes.append(ledger.cause("misreading", reading, words=f"misread throughout: {reading}"))
    said = cited(f"{line_words(line)} belongs to this joint", line.citation)
    ids = frozenset((line.id,))
    if line.belongs == "wholly":
        ledger.claim("tied", pieces_of(layout, ids, (ELSEWHERE,), BOTH), ("=", 0), causes, said)
    elif line.on_engine is None:
        here = [spot for spot in layout.spots if spot != ELSEWHERE]
        ledger.claim("tied in part", pieces_of(layout, ids, here, BOTH), (">=", 1), causes, said)


def _say_engine_file(ledger: Ledger, layout: Layout, line: Line, speaks_of: list[Line]) -> None:
    count, by = line.on_engine or 0, line.on_engine_by
    who = f"{ledger.who(by)} in the engine's own file" if by else "the engine's own file"
    causes = [ledger.cause("engine file wrong", line.id, words=f"{who} is wrong about {line_words(line)}")]
    if len(speaks_of) > 1:
        causes.append(ledger.cause("engine file out of date", words="the engine's own file is out of date"))
    if by in ledger.people:
        causes.append(ledger.person(by))
    pieces = pieces_of(layout, frozenset((line.id,)), layout.spots, BOTH)
    ledger.claim("engine file", pieces, ("=", count), causes, f"{who}: {count} x {line_words(line)}")


def has_unnamed_gap(layout: Layout, line: Line) -> bool:
    """Whether the engine file has fewer of a line than may be printed, and does not say where all lack.

    Of a line that no paper counts it must say where its pieces are, for there may be more holes than pieces.
    """
    if line.on_engine is None:
        return False
    if not line.printed:
        return len(line.places) < line.on_engine
    quantities = [printed.quantity for printed in line.printed]
    if any(q.high is None or q.per not in ALL_OF_A_FIGURE for q in quantities):
        return True
    named = sum(
        1
        for place in layout.places
        if place.never_there and any(there.id == line.id for there in layout.lines_at(place.id))
    )
    return max(q.high or 0 for q in quantities) - line.on_engine > named


def _say_lists(ledger: Ledger, layout: Layout, evidence: Evidence) -> None:
    unlisted = [line for line in layout.lines if not line.listed]
    seen: set[tuple[str, tuple[str, ...]]] = set()
    for list_read in evidence.lists:
        if (list_read.lineage, list_read.by) in seen:
            continue
        seen.add((list_read.lineage, list_read.by))
        said = cited(f"{list_read.source} was read to its end", list_read.citation)
        for line in unlisted:
            words = f"{list_read.source} leaves out a row for a {line.words}"
            causes = (ledger.cause("row left out", list_read.lineage, line.id, words=words), ledger.engine())
            pieces = pieces_of(layout, frozenset((line.id,)), layout.spots, BOTH)
            for who in _readers(ledger, list_read.by):
                ledger.claim("list read", pieces, ("=", 0), [*causes, *who], said)


def _say_removes(ledger: Ledger, layout: Layout, step: StepSaid, lineages: Counter[str]) -> None:
    """The pieces at the step's places are as many as it removes; no places said: at least so many in all."""
    wanted = relations(step.removes)
    lines = lines_of_step(layout, step)
    if not wanted or not lines or (step.line is None and not step.places):
        return
    where = cited(step_words(step), step.citation)
    causes = [ledger.cause("misprint", step.id, words=f"misprinted or misread: {where}")]
    if lineages[step.lineage] > 1:
        causes.append(ledger.lineage(step.lineage))
    causes.append(ledger.engine())
    fewer_places = step.removes.low is not None and step.removes.low > len(step.places)
    if fewer_places:
        pieces = pieces_of(layout, lines, layout.spots, BOTH)
        if step.removes.low:
            ledger.claim("removes", pieces, (">=", step.removes.low), causes, where)
        return
    sure = lines_of_step(layout, step, sure=True)
    for sense, bound in wanted:
        if sense == "=" and lines == sure:
            ledger.claim("removes", pieces_of(layout, lines, step.places, BOTH), ("=", bound), causes, where)
            continue
        if sense != "<=" and bound > 0:
            ledger.claim("removes", pieces_of(layout, lines, step.places, BOTH), (">=", bound), causes, where)
        if sense != ">=":
            ledger.claim("removes", pieces_of(layout, sure, step.places, BOTH), ("<=", bound), causes, where)


def lines_of_step(layout: Layout, step: StepSaid, *, sure: bool = False) -> frozenset[str]:
    """The lines whose pieces a step takes out: its own, or all whose kind may be (surely is) its kind.

    Empty for a step on something that stays out of the tally (studs, dowels).
    """
    if step.kind is not None and step.kind.what in ("stud", "dowel") and step.line is None:
        return frozenset()
    if step.line is not None:
        tallied = any(line.id == step.line for line in layout.lines)
        return frozenset((step.line,)) if tallied else frozenset()
    if step.kind is None:
        return frozenset(line.id for line in layout.lines)
    return layout.line_ids(step.kind, sure=sure)


def line_words(line: Line) -> str:
    """How to call a line."""
    return line.words or line.kind.words()


def step_words(step: StepSaid) -> str:
    """How to call a step."""
    return step.words or f"step {step.id}"


def _count(quantity: Quantity) -> str:
    if quantity.low is None:
        return f"at most {quantity.high}"
    if quantity.high is None:
        return f"at least {quantity.low}"
    return str(quantity.low) if quantity.low == quantity.high else f"{quantity.low} to {quantity.high}"
