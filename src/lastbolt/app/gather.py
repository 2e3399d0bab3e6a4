"""Documents -> evidence about one joint: model, engine file, walks, job file and the plan's closure."""

from collections import Counter
from typing import Literal

from msgspec import Struct
from msgspec.structs import replace

from lastbolt.app.every_holder import JointSoFar, every_holder
from lastbolt.app.gather_documents import Documents, slips
from lastbolt.app.gather_engine import Elsewhere, places_of_extras, with_engine_file
from lastbolt.app.gather_holders import not_holders
from lastbolt.app.gather_job import NOT_NAMED, Heard, Tick, hear
from lastbolt.app.gather_places import facts_by_place, facts_of_no_place, walked_place
from lastbolt.app.gather_rows import RowReader, Rows
from lastbolt.app.gather_unused import (
    MOST_PLACES,
    MOST_UNLISTED,
    by_people_heard,
    nearly_listed,
    out_of_no_row,
    people_named,
    steps_take_more,
    too_many_pieces,
    unusable,
)
from lastbolt.app.gather_variants import with_unknown_variants_kept
from lastbolt.app.joint_names import HowNamed, faces_of, figures_naming
from lastbolt.app.own_screws import with_own_screws
from lastbolt.app.put_together import put_together
from lastbolt.app.recorded_apart import recorded_apart
from lastbolt.app.removals import Removal, removal_words, removals
from lastbolt.app.row_ids import with_rows_found
from lastbolt.app.rows_nowhere import with_rows_nowhere
from lastbolt.app.sized_steps import led_by_size, with_sized_steps
from lastbolt.app.ties_of_rows import ties_differ
from lastbolt.tally.problems import (
    joints_differ,
    no_lines,
    no_places,
    other_joint,
    unlisted_place,
)
from lastbolt.tally.unused import too_much, unused_words
from lastbolt.tally.wording import Beside
from lastbolt.words.answer import HolderState
from lastbolt.words.engine import Engine
from lastbolt.words.evidence import Evidence, EvidencePlace, Line, Look, StepSaid
from lastbolt.words.joint import Walk
from lastbolt.words.problem import Problem


class Gathered(Struct, frozen=True):
    """The evidence, and what the answer shows beside it."""

    evidence: Evidence
    beside: Beside


def gather(documents: Documents, joint: str = "") -> Gathered:
    """The evidence about one joint: the one named, else the one of the first walk."""
    machine, strange = with_unknown_variants_kept(documents.machine)
    documents, renamed = with_rows_found(replace(documents, machine=machine))
    joint = joint or (documents.walks[0].joint if documents.walks else "joint")
    walks = tuple(walk for walk in documents.walks if walk.joint == joint)
    others = [walk.name or walk.joint for walk in documents.walks if walk.joint != joint]
    heard = hear(joint, walks, documents.job)
    problems = [*strange, *renamed, *([joints_differ(others, joint)] if others else [])]
    places, more = _places(walks, heard, documents.engine)
    problems += more
    problems += put_together(documents, joint, heard)
    heard = _only_of(heard, {place.id for place in places})
    naming = figures_naming(documents.machine, faces_of(walks)) if documents.machine else {}
    removed = _removed(documents, naming)
    read = _rows(documents, places, walks, removed, naming)
    sized = with_sized_steps(documents.machine, removed, read)
    removed, rows = sized.removed, sized.rows
    elsewhere = Elsewhere(documents, joint)
    ids = {place.id for place in places}
    lines, more = with_engine_file(rows.lines, documents.engine, ids, elsewhere, rows.line_of)
    lines = by_people_heard(lines, people_named(heard))
    places = (*places, *places_of_extras(documents, elsewhere, lines, rows.line_of))
    problems += more + _missing(joint, places, lines, heard)
    steps = _steps(documents, removed, rows, heard)
    looks = (*heard.looks, *_looked_at_steps(steps, heard))
    people = tuple((by, by if by != NOT_NAMED else "somebody not named") for by in heard.people)
    evidence = Evidence(
        joint, places, lines, rows.lists, steps, looks,
        heard.rounds, heard.acts, heard.counts, heard.breaks, people,
    )  # fmt: skip
    problems += [*too_many_pieces(lines, steps), *steps_take_more(removed, lines, rows.line_of)]
    problems += ties_differ(walks, rows.line_of)
    problems += out_of_no_row(documents, joint, places, lines)
    found = (elsewhere, removed, rows, lines, places)
    known = JointSoFar(joint, walks, heard, *found, recorded_apart(documents, heard))
    holders = with_rows_nowhere(evidence, every_holder(documents, known), heard.settling)
    problems += slips(documents, walks, heard, holders)
    problems += [*unusable(documents, joint), *nearly_listed(places, walks), *sized.problems]
    return Gathered(evidence, _beside(documents, known, holders, problems))


def _beside(
    documents: Documents, known: JointSoFar, holders: tuple[HolderState, ...], problems: list[Problem]
) -> Beside:
    unused = unused_words(problems)
    return Beside(
        name=next((walk.name for walk in known.walks if walk.name), "") or documents.parting or known.joint,
        machine=documents.machine.name if documents.machine else "",
        holders=holders,
        taken_as=(
            *known.rows.taken_as,
            *not_holders(documents.machine, documents.sections, holders),
            *facts_of_no_place(documents.engine),
        ),
        not_read=_not_read(documents),
        problems=tuple(problems),
        unused=unused,
        apart="" if unused else known.apart,
    )


# ---- places ------------------------------------------------------------------------------------------


def _places(
    walks: tuple[Walk, ...], heard: Heard, engine: Engine | None
) -> tuple[tuple[EvidencePlace, ...], list[Problem]]:
    facts = facts_by_place(engine)
    found: dict[str, EvidencePlace] = {}
    for walk in walks:
        for place in walk.places:
            found[place.id] = walked_place(place, found.get(place.id), facts.get(place.id, ()))
    for name in heard.photo_places:
        found.setdefault(name, EvidencePlace(name, name, words="on a photo only"))
    problems = []
    said = [(look.place, look.event) for look in heard.looks] + [(act.place, act.event) for act in heard.acts]
    unlisted = {name: event for name, event in reversed(said) if name and name not in found}
    for name in [*unlisted][::-1][:MOST_UNLISTED]:
        problems += [unlisted_place(name, unlisted[name] or "walk")] if walks else []
        found[name] = EvidencePlace(name, name)
    if len(unlisted) > MOST_UNLISTED:
        what = f"{len(unlisted)} places that no walk lists have been looked at"
        problems.append(too_much(what, MOST_UNLISTED))
    if len(found) > MOST_PLACES:
        problems.append(too_much(f"The joint has {len(found)} places", MOST_PLACES))
    return tuple(found.values())[:MOST_PLACES], problems


def _only_of(heard: Heard, places: set[str]) -> Heard:
    """What was heard of these places and of no place: the rest is left out (and told)."""
    return replace(
        heard,
        looks=tuple(look for look in heard.looks if not look.place or look.place in places),
        acts=tuple(act for act in heard.acts if not act.place or act.place in places),
    )


# ---- lines -------------------------------------------------------------------------------------------


def _removed(documents: Documents, naming: dict[str, HowNamed]) -> tuple[Removal, ...]:
    machine = documents.machine
    if machine is None:
        return ()
    found = removals(machine, documents.closure, documents.goals)
    found = led_by_size(machine, found, documents.goals)
    return with_own_screws(machine, found, documents.goals, naming)


def _rows(
    documents: Documents,
    places: tuple[EvidencePlace, ...],
    walks: tuple[Walk, ...],
    removed: tuple[Removal, ...],
    naming: dict[str, HowNamed],
) -> Rows:
    if documents.machine is None:
        return Rows((), (), (), {}, ())
    tied = frozenset(tie.line for walk in walks for tie in walk.ties)
    reader = RowReader(documents.machine, documents.engine, documents.variant, naming, tied)
    return reader.read(places, walks, removed)


# ---- steps -------------------------------------------------------------------------------------------


def _steps(
    documents: Documents, removed: tuple[Removal, ...], rows: Rows, heard: Heard
) -> tuple[StepSaid, ...]:
    """The steps that take out fasteners of the joint's lines, with what the record says of each."""
    lines = {line.id: line for line in rows.lines}
    sources = {source.id: source for source in documents.machine.sources} if documents.machine else {}
    times: Counter[str] = Counter()
    made = []
    for removal in removed:
        ids = {rows.line_of[row] for row in removal.rows if rows.line_of.get(row) in lines}
        if len(ids) != 1 or (removal.why and not removal.sure):
            continue
        line = lines[ids.pop()]
        tick = heard.steps.get(removal.step.id) or heard.procedures.get(removal.procedure.id)
        times[removal.step.id] += 1
        number = times[removal.step.id]
        citation = removal.step.citations[0] if removal.step.citations else None
        source = sources.get(citation.source) if citation else None
        title = source.title if source else "manual"
        made.append(
            StepSaid(
                removal.step.id if number == 1 else f"{removal.step.id} ({number})",
                line.id,
                removal.mention.kind or line.kind,
                removal.mention.quantity,
                title,
                source.lineage if source else title,
                line.places if _its_places(removal, line, removed) else (),
                _state(tick, recorded=documents.job is not None and documents.recorded),
                tick.by if tick else "",
                tick.moment if tick else 0,
                removal_words(removal),
                replace(citation, title=title) if citation else None,
                looked=tick is not None and tick.looked,
            )
        )
    return tuple(made)


def _its_places(removal: Removal, line: Line, removed: tuple[Removal, ...]) -> bool:
    """Whether the line's places are this step's: no other step takes of the line, and the counts agree.

    Places that a table of the manual gives are not: a slip in it would be one more mistake of the step.
    """
    if line.tied_reading:
        return False
    alone = sum(1 for other in removed if set(other.rows) & set(removal.rows)) == 1
    low = removal.mention.quantity.low
    return alone and bool(line.places) and (low is None or low == len(line.places))


def _state(tick: Tick | None, *, recorded: bool) -> Literal["not recorded", "started", "done"]:
    """Where nobody keeps a record, a step that is not ticked says nothing."""
    if tick is None:
        return "not recorded" if recorded else "started"
    return "done" if tick.done else "started"


def _looked_at_steps(steps: tuple[StepSaid, ...], heard: Heard) -> tuple[Look, ...]:
    """A tick "done, and looked at it" is a glance at the step's places."""
    looks = []
    for step in steps:
        tick = heard.steps.get(step.id)
        if tick is not None and tick.done and tick.looked:
            looks += [Look(tick.by, place, "open hole", False, tick.moment, step.id) for place in step.places]
    return tuple(looks)


# ---- what to say beside it ---------------------------------------------------------------------------


def _missing(
    joint: str, places: tuple[EvidencePlace, ...], lines: tuple[Line, ...], heard: Heard
) -> list[Problem]:
    problems = []
    if not places:
        problems.append(no_places(joint))
    if not any(line.belongs != "maybe" for line in lines):
        problems.append(no_lines(joint))
    if heard.other_joints:
        problems.append(other_joint(heard.other_joints))
    return problems


def _not_read(documents: Documents) -> tuple[str, ...]:
    """Which sources the answer does without."""
    machine = documents.machine
    roles = {source.role for source in machine.sources} if machine else set()
    missing = []
    if "manual" not in roles:
        missing.append("service manual")
    if "parts list" not in roles:
        missing.append("parts list")
    if documents.engine is None:
        missing.append("this engine's own file")
    if not documents.walks:
        missing.append("a walk of the joint")
    if documents.job is None or not documents.recorded:
        missing.append("a record of the job")
    titles = {source.id: source.title for source in machine.sources} if machine else {}
    unread = Counter(
        page.source for page in (machine.pages if machine else ()) if page.state == "unexplained"
    )
    for source, count in unread.items():
        missing.append(f"{count} page{'s' if count > 1 else ''} of {titles.get(source, source)}")
    return tuple(missing)
