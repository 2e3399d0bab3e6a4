"""Documents -> evidence about one joint: model, engine file, walks, job file and the plan's closure."""

from collections import Counter
from typing import Literal

from msgspec import Struct
from msgspec.structs import replace

from lastbolt.app.every_holder import JointSoFar, every_holder
from lastbolt.app.gather_documents import Documents, slips
from lastbolt.app.gather_engine import (
    Elsewhere,
    extra_line,
    line_at_place,
    places_of_extras,
    with_room,
)
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
    engine_fact_unused,
    joints_differ,
    no_lines,
    no_places,
    other_joint,
    unlisted_place,
)
from lastbolt.tally.unused import too_much, unused_words
from lastbolt.tally.wording import Beside
from lastbolt.words.answer import HolderState
from lastbolt.words.engine import AsFound, Engine
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
    lines, more = _with_engine_file(rows.lines, documents.engine, ids, elsewhere, rows.line_of)
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


def _with_engine_file(
    lines: tuple[Line, ...],
    engine: Engine | None,
    places: set[str],
    elsewhere: Elsewhere,
    line_of: dict[str, str],
) -> tuple[tuple[Line, ...], list[Problem]]:
    """The lines with what the engine's own file says of their counts."""
    known = {line.id: line for line in lines}
    problems: list[Problem] = []
    for fact in engine.as_found if engine else ():
        if fact.what not in ("missing", "extra", "odd length"):
            continue
        line = known.get(line_of.get(fact.line or "", fact.line or ""))
        if line is None and not fact.line and fact.what != "extra":
            line = line_at_place(known.values(), fact.place)
        if line is None and elsewhere.has(fact):
            continue
        if fact.count < 1:
            problems.append(engine_fact_unused(fact.words, f"it speaks of {fact.count} pieces"))
            continue
        if line is None:
            piece = extra_line(fact, len(known), elsewhere)
            if piece is None:
                problems.append(engine_fact_unused(fact.words, _no_row(fact, elsewhere)))
            else:
                known[piece.id] = piece
            continue
        if line.belongs == "maybe" and fact.place not in places and _exact_count(line) is None:
            known[line.id] = with_room(line, fact)
            continue
        count = line.on_engine if line.on_engine is not None else _holes(line, fact.place)
        if count is None:
            problems.append(engine_fact_unused(fact.words, _no_count(line)))
            continue
        change = fact.count if fact.what == "extra" else -fact.count
        if count + change < 0:
            problems.append(engine_fact_unused(fact.words, f"of {count} there cannot be {fact.count} fewer"))
            continue
        by = line.on_engine_by or fact.by or "engine file"
        known[line.id] = replace(line, on_engine=count + change, on_engine_by=by)
        if fact.what == "odd length" and fact.kind is not None:
            known.update(_odd_piece(fact, line, len(known), places))
    return tuple(known.values()), problems


def _odd_piece(fact: AsFound, line: Line, number: int, places: set[str]) -> dict[str, Line]:
    """The piece that stands where another length should: a line of its own, from the engine's file."""
    name = f"engine file/{number}"
    at = (fact.place,) if fact.place in places and fact.place else ()
    belongs = "wholly" if at else line.belongs
    words = f"engine file: {fact.words}"
    citation = fact.citations[0] if fact.citations else None
    odd = Line(
        name, fact.kind or line.kind, (), belongs, fact.by or "engine file", at,
        on_engine=fact.count, on_engine_by=fact.by or "engine file", words=words, citation=citation,
    )  # fmt: skip
    return {name: odd}


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
