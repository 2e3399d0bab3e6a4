"""What the engine's own file says beside the counts: extra pieces, where they are, and what else may hold."""

from collections.abc import Collection, Iterable, Iterator, Mapping

from msgspec.structs import replace

from lastbolt.app.gather_documents import Documents
from lastbolt.app.gather_job import Heard
from lastbolt.app.holder_words import says
from lastbolt.tally.problems import engine_fact_unused
from lastbolt.words.answer import HolderState
from lastbolt.words.engine import AsFound, Engine
from lastbolt.words.evidence import EvidencePlace, Line
from lastbolt.words.problem import Problem
from lastbolt.words.quantity import Kind, Quantity

FILE = "engine file"
NOT_SETTLED = "as found on this engine; not checked"


class Elsewhere:
    """What is known to belong to other joints: their places, and the rows of the model."""

    def __init__(self, documents: Documents, joint: str) -> None:
        self.here = {place.id for walk in documents.walks if walk.joint == joint for place in walk.places}
        others = {place.id for walk in documents.walks if walk.joint != joint for place in walk.places}
        self.others = others - self.here
        self.rows = {row.id for row in documents.machine.rows} if documents.machine else set()

    def has(self, fact: AsFound) -> bool:
        """Whether a fact that names none of this joint's rows is surely about another joint."""
        if fact.place in self.here:
            return False
        return fact.place in self.others or fact.line in self.rows


def with_engine_file(
    lines: Iterable[Line],
    engine: Engine | None,
    places: Collection[str],
    elsewhere: Elsewhere,
    line_of: Mapping[str, str],
) -> tuple[tuple[Line, ...], list[Problem]]:
    """The lines with what the engine's own file says of their counts."""
    known = {line.id: line for line in lines}
    problems: list[Problem] = []
    for fact in engine.as_found if engine else ():
        if fact.what not in ("missing", "extra", "odd length"):
            continue
        line = _line_meant(fact, known, line_of)
        if line is None and elsewhere.has(fact):
            continue
        made = _by_fact(fact, line, len(known), places, elsewhere)
        if isinstance(made, str):
            problems.append(engine_fact_unused(fact.words, made))
        else:
            known.update((one.id, one) for one in made)
    return tuple(known.values()), problems


def _line_meant(fact: AsFound, known: Mapping[str, Line], line_of: Mapping[str, str]) -> Line | None:
    line = known.get(line_of.get(fact.line or "", fact.line or ""))
    if line is None and not fact.line and fact.what != "extra":
        return _line_at_place(known.values(), fact.place)
    return line


def _by_fact(
    fact: AsFound, line: Line | None, number: int, places: Collection[str], elsewhere: Elsewhere
) -> tuple[Line, ...] | str:
    """The lines as they are by a fact, or why it cannot be used; `number`: for the name of a further one."""
    if fact.count < 1:
        return f"it speaks of {fact.count} pieces"
    if line is None:
        piece = _extra_line(fact, number, elsewhere)
        return (piece,) if piece is not None else _no_row(fact, elsewhere)
    if line.belongs == "maybe" and fact.place not in places and _exact_count(line) is None:
        return (_with_room(line, fact),)
    count = line.on_engine if line.on_engine is not None else _holes(line, fact.place)
    if count is None:
        return _no_count(line)
    now = count + (fact.count if fact.what == "extra" else -fact.count)
    if now < 0:
        return f"of {count} there cannot be {fact.count} fewer"
    changed = replace(line, on_engine=now, on_engine_by=line.on_engine_by or fact.by or FILE)
    if fact.what == "odd length":
        return changed, _odd_piece(fact, changed, number, places)
    return (changed,)


def _odd_piece(fact: AsFound, line: Line, number: int, places: Collection[str]) -> Line:
    """The piece that stands where another length should: a line of its own, from the engine's file."""
    at = (fact.place,) if fact.place in places and fact.place else ()
    belongs = "wholly" if at else line.belongs
    words = f"engine file: {fact.words}"
    citation = fact.citations[0] if fact.citations else None
    kind = fact.kind or Kind(line.kind.what, line.kind.thread)
    return Line(
        f"{FILE}/{number}", kind, (), belongs, fact.by or FILE, at,
        on_engine=fact.count, on_engine_by=fact.by or FILE, words=words, citation=citation,
    )  # fmt: skip


def _no_row(fact: AsFound, elsewhere: Elsewhere) -> str:
    if fact.line and fact.line not in elsewhere.rows:
        return f'no parts row is called "{fact.line}"'
    if fact.what == "extra":
        return "neither a parts row of this joint nor a size is named"
    return "no parts row of this joint is named"


def _holes(line: Line, place: str | None) -> int | None:
    """How many there are by the papers: what is missing is counted against the holes, where these are known.

    Papers that print different counts are settled by the places that the line goes to, if one of them agrees.
    """
    holes = len(line.places)
    if line.belongs == "wholly" and place in line.places:
        printed = {printed.quantity.high for printed in line.printed}
        if None not in printed and all(holes >= (high or 0) for high in printed):
            return holes
    return _exact_count(line)


def _no_count(line: Line) -> str:
    counts = [str(p.quantity.low) for p in line.printed if p.quantity.low is not None]
    if len(set(counts)) > 1:
        return f"its sources print {' and '.join(dict.fromkeys(counts))}, and no places say which"
    return "the parts list prints no single count"


def _exact_count(line: Line) -> int | None:
    """The count all its sources print, when they agree on one."""
    counts = {
        printed.quantity.low
        for printed in line.printed
        if printed.quantity.low == printed.quantity.high and printed.quantity.per in ("", "figure")
    }
    return counts.pop() if len(counts) == 1 else None


def _line_at_place(lines: Iterable[Line], place: str | None) -> Line | None:
    """The one line said to go to this place; a fact that names the place alone is about it."""
    found = [line for line in lines if place and place in line.places]
    return found[0] if len(found) == 1 else None


def _extra_line(fact: AsFound, number: int, elsewhere: Elsewhere) -> Line | None:
    """A piece that stands in no list, as a line of its own; None when its size is not said."""
    if fact.what != "extra" or fact.kind in (None, Kind()) or fact.kind is None:
        return None
    at = (fact.place,) if fact.place and fact.place not in elsewhere.others else ()
    by = fact.by or FILE
    return Line(
        f"{FILE}/{number}", fact.kind, (), "wholly" if at else "maybe", by, at,
        on_engine=fact.count, on_engine_by=by, words=f"engine file: {fact.words}",
        citation=fact.citations[0] if fact.citations else None,
    )  # fmt: skip


def _with_room(line: Line, fact: AsFound) -> Line:
    """A line that only fits by size, without an upper bound if it has extra pieces."""
    if fact.what != "extra":
        return line
    wider = tuple(replace(printed, quantity=_at_least(printed.quantity)) for printed in line.printed)
    return replace(line, printed=wider)


def _at_least(quantity: Quantity) -> Quantity:
    return Quantity("at least", quantity.low, None, quantity.per, quantity.words)


def places_of_extras(
    documents: Documents, elsewhere: Elsewhere, lines: Iterable[Line], line_of: dict[str, str]
) -> Iterator[EvidencePlace]:
    """A place for each extra piece said to be where no walk has one, so that somebody looks there."""
    known = {line.id for line in lines if line.belongs != "maybe"}
    for fact in documents.engine.as_found if documents.engine else ():
        new = fact.place and fact.place not in elsewhere.here and fact.place not in elsewhere.others
        ours = not fact.line or fact.line not in elsewhere.rows or line_of.get(fact.line, fact.line) in known
        if fact.what == "extra" and new and ours and fact.place:
            yield EvidencePlace(fact.place, fact.place, fact.kind, words=f"engine file: {fact.words}")


def holders_of_engine(
    documents: Documents, elsewhere: Elsewhere, heard: Heard, own: set[str]
) -> tuple[HolderState, ...]:
    """What the file says of this joint and no count shows: "welded at 2", one more screw without a place or
    row, or words beside a fact that speak of both halves. It holds until somebody settles it."""
    found = {}
    for fact in documents.engine.as_found if documents.engine else ():
        if not _is_asked(fact) or (fact.line not in own and elsewhere.has(fact)):
            continue
        name = f"as found: {fact.words}"
        how = heard.settling(name)
        found[name] = HolderState(name, "other", fact.words, bool(how), how or NOT_SETTLED, fact.citations)
    return tuple(found.values())


def _is_asked(fact: AsFound) -> bool:
    if fact.what == "other":
        return True
    if fact.what == "extra" and not fact.place and not fact.line:
        return True
    return any(says(group, fact.words) for group in ("holds_in_words", "of_halves", "crosses_joint"))
