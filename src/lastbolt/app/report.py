"""Plan and answer on one page: the answer first, then what it stands on."""

import re
from collections.abc import Iterable

from msgspec import Struct
from msgspec.structs import replace

from lastbolt.app.answer_words import in_short, not_read_words, sure_rows
from lastbolt.app.counts_shown import Counted, counts_shown
from lastbolt.app.next_shown import next_shown
from lastbolt.app.pages import Cite, HolderShown, Remark, ReportPage
from lastbolt.app.picture_shown import key_of, legend_of, picture_of
from lastbolt.app.places_by_size import places_by_size
from lastbolt.app.plan_shown import before_off, blocks_of, first_open, open_points, plan_state, reading_rule
from lastbolt.app.put_right_shown import put_right_lines
from lastbolt.app.safety_shown import MADE_SAFE, safety_shown
from lastbolt.app.shown import Shown
from lastbolt.app.way_back_shown import NO_WAY_BACK, ready_shown, way_back
from lastbolt.tally.wording_counts import differing_counts
from lastbolt.words.answer import Answer, HolderState, Suspicion
from lastbolt.words.citation import Citation, PdfPlace
from lastbolt.words.engine import Engine
from lastbolt.words.joint import Walk
from lastbolt.words.machine import Machine
from lastbolt.words.plan import Plan
from lastbolt.words.problem import Problem

FIRST_SUSPICIONS = 6
NO_PICTURE = "No picture of the joint: no walk file says where its places are (docs/typed.md, docs/schemas)."
SENTENCE_END = re.compile(r"(?<=[a-z0-9\"”)]{2})\. (?=\S)")
"""Not behind an initial ("M. Tobin")."""


class ReportParts(Struct, frozen=True):
    """Everything a report is made from; `people` gives how to call each person id."""

    machine: Machine
    plan: Plan
    answer: Answer | None = None
    walks: tuple[Walk, ...] = ()
    engine: Engine | None = None
    people: tuple[tuple[str, str], ...] = ()


def report_page(parts: ReportParts) -> ReportPage:
    """The view that HTML and PDF lay out."""
    shown = Shown(parts.machine, dict(parts.people))
    plan = parts.plan
    page = ReportPage(
        title=plan.goal[:1].upper() + plan.goal[1:],
        subtitle=_subtitle(parts),
        sentence=_no_joint(plan),
        verdict="not shown",
        next_steps=first_open(plan, shown),
        picture=(picture := picture_of(parts.walks[0] if parts.walks else None, parts.answer)),
        legend=legend_of(picture.spots),
        picture_key=key_of(picture.spots),
    )
    if parts.answer:
        page = _with_answer(page, parts, parts.answer, shown)
    return replace(
        page,
        before_off=before_off(plan, shown),
        blocks=blocks_of(plan, parts.machine, shown, parts.answer),
        plan_state=f"{plan_state(plan)} {reading_rule(plan)}".rstrip(),
        open_points=open_points(plan, shown),
        disagreements=_disagreements(parts, shown),
        ready=ready_shown(plan, shown),
        way_back=way_back(plan, shown, parts.machine),
        sources=(*_sources(parts.machine), *(f"Put right: {one}" for one in put_right_lines(plan.put_right))),
        crops=shown.crops(),
        safety=safety_shown(plan, shown),
        made_safe=MADE_SAFE if page.next_steps else "",
        no_picture="" if page.picture.spots or parts.answer is None else NO_PICTURE,
    )


def _with_answer(page: ReportPage, parts: ReportParts, answer: Answer, shown: Shown) -> ReportPage:
    differ = [item for item in answer.suspicions if item.sort == "disagreement"]
    held = _headline_first(answer)
    labels = {state.place: state.label for state in answer.places}
    sizes = places_by_size(parts.walks, parts.engine, answer)
    counted = counts_shown(answer.counts, parts.machine, parts.engine, labels, sizes)
    return replace(
        page,
        sentence=answer.sentence,
        verdict=answer.verdict,
        clear_to_part=answer.clear_to_part,
        next_steps=tuple(Remark(step.deed, step.beside) for step in next_shown(answer)),
        places=tuple((state.label, state.words) for state in answer.places),
        why=" ".join(words for words in (_plan_open(parts.plan), _why(answer, counted)) if words),
        counts=counted.sizes,
        count_disagreements=(*counted.seen_otherwise, *counted.papers_differ),
        count_notes=(*counted.notes, *_taken(answer)),
        suspicions=tuple(_suspicion(item, shown) for item in (*differ, *held[:FIRST_SUSPICIONS])),
        more_suspicions=in_short(held[FIRST_SUSPICIONS:]),
        holders=tuple(_holder(holder, shown) for holder in answer.holders),
        holder_notes=tuple(f"{taken.words}." for taken in answer.taken_as if not taken.pieces),
        certificate=answer.certificate,
        not_covered=(*not_read_words(answer), *answer.not_covered),
    )


def _headline_first(answer: Answer) -> list[Suspicion]:
    """Where something may hold: the places that the headline names before the others, in its order."""
    named = [state.place for state in answer.places if not state.accounted]
    rank = {place: number for number, place in enumerate(named)}
    held = [item for item in answer.suspicions if item.sort == "may hold"]
    return sorted(held, key=lambda item: min((rank.get(p, len(rank)) for p in item.about), default=len(rank)))


def _plan_open(plan: Plan) -> str:
    """That the checklist has open points, to stand beside what the joint's answer says in large letters."""
    if not plan.open:
        return ""
    number = len(plan.open)
    return f"The checklist is not complete: {number} open point{'' if number == 1 else 's'}."


def _taken(answer: Answer) -> tuple[str, ...]:
    """The rows taken as this joint's, those with one reason together; those that only may be are counted."""
    rest = sum(1 for taken in answer.taken_as if taken.pieces and not taken.sure)
    more = (f"{rest} other rows could belong by their size, and were not ruled out.",) if rest else ()
    return (*sure_rows(answer.taken_as), *more)


def _holder(holder: HolderState, shown: Shown) -> HolderShown:
    state = holder.words or ("settled" if holder.settled else "not checked")
    return HolderShown(
        holder.name, state, holder.settled, shown.cites(holder.citations, 2, f"{holder.name} {state}")
    )


def _why(answer: Answer, counted: Counted) -> str:
    """What the verdict rests on; of the counts only what was seen otherwise, as the rest stands below."""
    rests_on = answer.why
    if counted.sizes:
        rests_on = rests_on.removeprefix(differing_counts(answer.counts)).strip() or rests_on
    return " ".join((*counted.seen_otherwise, rests_on)).strip()


def _suspicion(item: Suspicion, shown: Shown) -> Remark:
    """The first sentence large; what would have to be wrong, and what it rests on, small below."""
    parts = SENTENCE_END.split(item.words, maxsplit=1)
    first = parts[0] if len(parts) == 1 else f"{parts[0]}."
    aside = " ".join(words for words in (item.ways, *parts[1:]) if words)
    return Remark(first, aside, shown.cites(item.citations, beside=f"{item.words} {item.ways}"))


def _subtitle(parts: ReportParts) -> str:
    words = [parts.machine.name]
    if parts.engine:
        words.append(f"engine {parts.engine.name}")
    if parts.plan.variant:
        words.append(f"variant {parts.plan.variant}")
    return ", ".join(word for word in words if word)


def _no_joint(plan: Plan) -> str:
    steps = sum(line.kind == "step" for line in plan.lines)
    return f"{steps} steps. Nobody has gone round the joint yet: nothing is known about what still holds."


def _disagreements(parts: ReportParts, shown: Shown) -> tuple[Remark, ...]:
    """What does not fit: all that plan and tally found, and of the reader's problems those near this plan.

    Of the reader's others, on pages that nothing here needs, only number and pages are told.
    """
    told = [problem for problem in parts.plan.problems if problem.code != NO_WAY_BACK]
    found = dict.fromkeys((*told, *(parts.answer.problems if parts.answer else ())))
    read = [p for p in dict.fromkeys(parts.machine.problems) if p not in found and p.grade != "note"]
    pages = _pages(c for line in parts.plan.lines for c in line.citations)
    pages |= _pages(c for row in parts.machine.rows for c in row.citations)
    pages |= _pages(c for row in parts.machine.torques for c in row.citations)
    near = [p for p in read if not p.citations or _beyond_pages(p.citations) or _pages(p.citations) & pages]
    said = [_remark(problem, shown) for problem in (*found, *near) if problem.grade != "note"]
    if len(read) > len(near):
        said.append(_elsewhere([problem for problem in read if problem not in near], shown))
    return tuple(said)


def _elsewhere(problems: list[Problem], shown: Shown) -> Remark:
    """Doubts of the reading that this job does not touch: how many, and on which pages."""
    pages = dict.fromkeys(shown.first_where(problem.citations) for problem in problems)
    one = len(problems) == 1
    doubts = f"{len(problems)} more doubt{'' if one else 's'} of the reading"
    words = f"{doubts}, on pages that this plan does not need."
    return Remark(words, f"{'; '.join(pages)}. lastbolt read tells {'it' if one else 'each of them'}.")


def _beyond_pages(citations: Iterable[Citation]) -> bool:
    """Whether something else than a page is cited, as a line of a table file."""
    return any(not isinstance(citation.place, PdfPlace) for citation in citations)


def _pages(citations: Iterable[Citation]) -> set[tuple[str, int]]:
    return {(c.source, c.place.pdf_page) for c in citations if isinstance(c.place, PdfPlace)}


def _remark(problem: Problem, shown: Shown) -> Remark:
    beside = f"{problem.what} {problem.do}"
    cites = shown.cites(problem.citations, beside=beside) or (Cite(problem.where),)
    return Remark(f"{problem.code}  {problem.what}", problem.do, cites)


def _sources(machine: Machine) -> tuple[str, ...]:
    said = []
    for source in machine.sources:
        pages = [page for page in machine.pages if page.source == source.id]
        dark = [page for page in pages if page.state == "unexplained"]
        size = f"{source.pages} pages" if source.pages else f"{source.rows} rows"
        edition = f", {source.edition}" if source.edition else ""
        words = f"{source.title or source.file} ({source.role}{edition}): {size}"
        if dark:
            words += f"; not explained: PDF pages {', '.join(str(page.pdf_page) for page in dark)}"
        said.append(words + ".")
    return tuple(said)
