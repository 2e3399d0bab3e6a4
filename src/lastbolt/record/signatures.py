"""What a signature is worth now: computed from the record, whatever came late and in whatever order.

A signature lapses when some of what came after it, taken as far as any device may have known it, gives
another verdict. So it does not depend on what arrived first, and nothing that comes later revives it.
"""

from collections.abc import Callable, Iterator
from typing import Literal

from msgspec import Struct

from lastbolt.record.bodies import HoldSet, Override, decision_of
from lastbolt.record.chains import Record
from lastbolt.record.faults import Opening, signature_faults
from lastbolt.record.holds import OPENING, force_acts, hold_of, touches
from lastbolt.record.sealed import Hash, SealedEvent
from lastbolt.record.undo import UNDONE
from lastbolt.words.problem import Problem

MOST_VIEWS = 4096
VerdictOf = Callable[[Record], str]


class Standing(Struct, frozen=True):
    """A signature and its worth. `events`: those from which it lapsed; `incidents`: what was done by force
    although it lapsed, for ever; `faults`: why it was refused."""

    signature: Hash
    state: Literal["standing", "confirmed", "lapsed", "refused"]
    events: tuple[Hash, ...]
    incidents: tuple[Hash, ...]
    self_check: bool
    override: bool
    faults: tuple[Problem, ...] = ()


class HoldState(Struct, frozen=True):
    """Whether work may go on past a hold. `unsigned_force`: force used with no signature known to it."""

    hold: str
    open: bool
    signatures: tuple[Standing, ...]
    unsigned_force: tuple[Hash, ...]
    why_closed: str


def standing_of(
    record: Record, signature: Hash, verdict_of: VerdictOf, most_views: int = MOST_VIEWS
) -> Standing:
    """What a signature or an override is worth, with the record as it is."""
    event = record.event(signature)
    said = decision_of(event.body)
    assert isinstance(said, Opening)
    made = (said.self_check, isinstance(said, Override))
    faults = signature_faults(record, signature)
    hold = hold_of(record.view(event.named), said.hold).set
    if faults or hold is None:
        return Standing(signature, "refused", (), (), *made, faults)
    late = _late(record, signature, hold)
    spoiled = _spoiled_by(record, signature, late, lambda view: verdict_of(view) != said.verdict, most_views)
    if spoiled is None:
        return Standing(signature, "confirmed" if late else "standing", (), (), *made)
    past = record.past(signature)
    forced = tuple(one.hash for one in force_acts(record, hold) if one.hash not in past)
    return Standing(signature, "lapsed", spoiled, forced, *made)


def _late(record: Record, signature: Hash, hold: HoldSet) -> tuple[SealedEvent, ...]:
    """What the signature did not know and should have: not what followed the force that it allowed."""
    doubted = {str(one.body["undoes"]) for one in record.present if one.tag == UNDONE}
    forced = [
        one.hash for one in force_acts(record, hold)
        if one.hash not in doubted and record.before(signature, one.hash)
    ]  # fmt: skip
    past = record.past(signature)
    return tuple(
        one for one in record.present
        if one.kind != "decision" and one.hash not in past and touches(one, hold.joint)
        and not any(one.hash == force or record.before(force, one.hash) for force in forced)
    )  # fmt: skip


def _spoiled_by(
    record: Record,
    signature: Hash,
    late: tuple[SealedEvent, ...],
    spoils: Callable[[Record], bool],
    most_views: int,
) -> tuple[Hash, ...] | None:
    """The events from which the verdict is another one; None when it never is."""
    names = tuple(one.hash for one in late)
    needs = tuple(
        sum(1 << j for j in range(i) if record.before(names[j], names[i])) for i in range(len(names))
    )
    closed = list(_closed_sets(names, needs, most_views))
    if len(closed) > most_views:
        return _maximal(needs, (1 << len(names)) - 1, names)
    before = record.event(signature).named
    for number in closed:
        if spoils(record.view((*before, *_members(number, names)))):
            return _maximal(needs, number, names) or (signature,)
    return None


def _closed_sets(names: tuple[Hash, ...], needs: tuple[int, ...], most: int) -> Iterator[int]:
    """The sets of events, as bits, that hold what lies before each member; the smaller first, at most one
    more than `most`."""
    level, given = {0}, 0
    while level:
        for number in sorted(level, key=lambda one: tuple(sorted(_members(one, names)))):
            yield number
            given += 1
            if given > most:
                return
        level = _one_larger(level, needs, most)


def _one_larger(level: set[int], needs: tuple[int, ...], most: int) -> set[int]:
    larger: set[int] = set()
    for number in level:
        for i, need in enumerate(needs):
            if not number >> i & 1 and need & ~number == 0:
                larger.add(number | 1 << i)
                if len(larger) > most:
                    return larger
    return larger


def _members(number: int, names: tuple[Hash, ...]) -> list[Hash]:
    return [name for i, name in enumerate(names) if number >> i & 1]


def _maximal(needs: tuple[int, ...], number: int, names: tuple[Hash, ...]) -> tuple[Hash, ...]:
    """Those of a set that lie before no other of it."""
    behind = 0
    for i, need in enumerate(needs):
        if number >> i & 1:
            behind |= need
    return tuple(sorted(_members(number & ~behind, names)))


def hold_state(record: Record, hold: str, verdict_of: VerdictOf, most_views: int = MOST_VIEWS) -> HoldState:
    """Whether a hold is open, by which signatures, and if not, why."""
    signed = [one for one in record.present if one.tag in OPENING and one.body["hold"] == hold]
    standings = tuple(standing_of(record, one.hash, verdict_of, most_views) for one in signed)
    reopened = [one.hash for one in record.present if one.tag == "reopened" and one.body["hold"] == hold]
    good = [one for one in standings if one.state in ("standing", "confirmed")]
    valid = [one for one in good if set(reopened) <= record.past(one.signature)]
    state = hold_of(record, hold)
    why = _why_closed(record, state.conflict, bool(valid), bool(good), standings)
    counted = [one.signature for one in standings if one.state != "refused"]
    forced = force_acts(record, state.set) if state.set else ()
    unsigned = tuple(one.hash for one in forced if not any(record.before(name, one.hash) for name in counted))
    return HoldState(hold, not why, standings, unsigned, why)


def _why_closed(
    record: Record, conflict: bool, valid: bool, good: bool, standings: tuple[Standing, ...]
) -> str:
    if conflict:
        return "People set this hold differently; set it again with both in view."
    if record.waiting:
        count = len(record.waiting)
        return f"Something before {count} of the events has not arrived yet: let every device send."
    if valid:
        return ""
    if good:
        return "It was signed and opened again since."
    if any(one.state == "lapsed" for one in standings):
        return (
            "The signature lapsed: something came to light that changes the verdict. Look, and sign afresh."
        )
    return "It is not signed." if not standings else "What was signed was refused."
