"""All that may hold a joint beside its counted fasteners, from every document, each once and by a name."""

from msgspec import Struct
from msgspec.structs import replace

from lastbolt.app.book_says import book_says
from lastbolt.app.gather_documents import Documents
from lastbolt.app.gather_engine import Elsewhere, holders_of_engine
from lastbolt.app.gather_holders import holders_of, told_apart, with_words_said
from lastbolt.app.gather_job import Heard
from lastbolt.app.gather_rows import Rows
from lastbolt.app.joint_names import joint_words
from lastbolt.app.known_of_joint import known_of
from lastbolt.app.laid_in_asked import laid_in_asked
from lastbolt.app.plan_asked import asked_of_plan
from lastbolt.app.removals import Removal
from lastbolt.app.rows_say import rows_say
from lastbolt.app.tray_counts import TRAYS, counts_differ
from lastbolt.app.typed_dowels import dowels_asked
from lastbolt.app.untold_fasteners import summed_up, untold
from lastbolt.app.written_words import asked_of_words
from lastbolt.words.answer import HolderState
from lastbolt.words.evidence import EvidencePlace, Line
from lastbolt.words.joint import Walk


class JointSoFar(Struct, frozen=True):
    """What is known of a joint before its other holders are asked for. `apart`: what says it is apart."""

    joint: str
    walks: tuple[Walk, ...]
    heard: Heard
    elsewhere: Elsewhere
    removed: tuple[Removal, ...]
    rows: Rows
    lines: tuple[Line, ...]
    places: tuple[EvidencePlace, ...]
    apart: str = ""


def every_holder(documents: Documents, known: JointSoFar) -> tuple[HolderState, ...]:
    """The other holders, settled or not."""
    heard, machine = known.heard, documents.machine
    holders = (
        *holders_of(machine, known.walks, heard, documents.sections, known.rows.figures),
        *holders_of_engine(documents, known.elsewhere, heard, {line.id for line in known.lines}),
        *untold(machine, documents.goals, known.removed, known.rows, heard),
        *(() if known.apart else asked_of_words(documents, known.joint, heard)),
        *laid_in_asked(documents, heard),
        *counts_differ(heard.counts, heard.acts, heard.settling(TRAYS)),
        *asked_of_plan(documents, heard),
    )
    holders = _dowels_once(documents, holders)
    named = {holder.id: holder for holder in holders}
    holders += dowels_asked((), heard.looks, known.places, named)
    if machine is not None:
        joint = joint_words(machine, known.walks, documents.goals)
        labels = frozenset(place.label for place in known.places)
        summed = frozenset(summed_up(machine, documents.goals, known.removed, known.rows))
        explains = known_of(known.rows, known.removed, joint, holders, labels, summed)
        holders += book_says(machine, documents.goals, explains, heard)
        holders += tuple(rows_say(machine, explains, heard))
    return told_apart(with_words_said(holders, heard))


def _dowels_once(documents: Documents, holders: tuple[HolderState, ...]) -> tuple[HolderState, ...]:
    """The dowels of a row, where a step of the goal takes out as many, asked for by the row alone."""
    machine = documents.machine
    if machine is None:
        return holders
    rows = {row.id: row.quantity.low for row in machine.rows}
    out = {
        f"{step.id}#{mention.name}": mention.quantity.low
        for procedure in machine.procedures
        if procedure.id in documents.goals
        for step in procedure.steps
        for mention in step.mentions
    }
    dowels = [one for one in holders if one.sort == "dowel"]
    listed = [one for one in dowels if one.id in rows]
    taken = [one for one in dowels if one.id in out]
    if len(listed) != 1 or len(taken) != 1 or rows[listed[0].id] != out[taken[0].id]:
        return holders
    row, step = listed[0], taken[0]
    both = replace(
        row if row.settled or not step.settled else step,
        id=row.id, name=row.name, citations=tuple(dict.fromkeys((*row.citations, *step.citations))),
    )  # fmt: skip
    return tuple(both if one is row else one for one in holders if one is not step)
