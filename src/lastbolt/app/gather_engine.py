"""What the engine's own file says beside the counts: extra pieces, where they are, and what else may hold."""

from collections.abc import Iterable, Iterator

from msgspec.structs import replace

from lastbolt.app.gather_documents import Documents
from lastbolt.app.gather_job import Heard
from lastbolt.words.answer import HolderState
from lastbolt.words.engine import AsFound
from lastbolt.words.evidence import EvidencePlace, Line
from lastbolt.words.quantity import Kind, Quantity

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


def line_at_place(lines: Iterable[Line], place: str | None) -> Line | None:
    """The one line said to go to this place; a fact that names the place alone is about it."""
    found = [line for line in lines if place and place in line.places]
    return found[0] if len(found) == 1 else None


def extra_line(fact: AsFound, number: int, elsewhere: Elsewhere) -> Line | None:
    """A piece that stands in no list, as a line of its own; None when its size is not said."""
    if fact.what != "extra" or fact.kind in (None, Kind()) or fact.kind is None:
        return None
    at = (fact.place,) if fact.place and fact.place not in elsewhere.others else ()
    by = fact.by or "engine file"
    return Line(
        f"engine file/{number}", fact.kind, (), "wholly" if at else "maybe", by, at,
        on_engine=fact.count, on_engine_by=by, words=f"engine file: {fact.words}",
        citation=fact.citations[0] if fact.citations else None,
    )  # fmt: skip


def with_room(line: Line, fact: AsFound) -> Line:
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
    """What the file says in words alone of this joint ("welded at 2"): it holds until somebody settles it."""
    found = {}
    for fact in documents.engine.as_found if documents.engine else ():
        if fact.what != "other" or (fact.line not in own and elsewhere.has(fact)):
            continue
        name = f"as found: {fact.words}"
        how = heard.settling(name)
        found[name] = HolderState(name, "other", fact.words, bool(how), how or NOT_SETTLED, fact.citations)
    return tuple(found.values())
