"""What was taken back: an undo names the event, and counts only if it saw it."""

from lastbolt.record.chains import Record
from lastbolt.record.sealed import Hash, SealedEvent

UNDONE = "undone"


def undone(record: Record) -> frozenset[Hash]:
    """The events that were taken back. An undo can itself be undone; a decision is reopened, never undone."""
    found: set[Hash] = set()
    for event in reversed(record.present):  # whatever undoes an undo stands after it
        if event.tag == UNDONE and event.hash not in found and not _vain(record, event):
            found.add(str(event.body["undoes"]))
    return frozenset(found)


def vain_undoes(record: Record) -> tuple[SealedEvent, ...]:
    """Undoes that take nothing back: they name a decision, or nothing that they had seen."""
    return tuple(one for one in record.present if one.tag == UNDONE and _vain(record, one))


def _vain(record: Record, event: SealedEvent) -> bool:
    target = str(event.body["undoes"])
    if not record.is_present(target) or not record.before(target, event.hash):
        return True
    return record.event(target).kind == "decision"


def standing_events(record: Record) -> tuple[SealedEvent, ...]:
    """The observations and acts that were not taken back, in canonical order."""
    gone = undone(record)
    return tuple(
        one for one in record.present
        if one.kind != "decision" and one.tag != UNDONE and one.hash not in gone
    )  # fmt: skip


def standing_acts(record: Record) -> tuple[SealedEvent, ...]:
    """The acts that were not taken back, in canonical order."""
    return tuple(one for one in standing_events(record) if one.kind == "act")
