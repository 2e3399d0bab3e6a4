"""What keeps a plan from being complete, each with what settles it; and the problems planning finds."""

from collections.abc import Container, Iterable, Iterator

from lastbolt.planning.book import TAKES_OFF, Book, limits
from lastbolt.planning.circles import Circle
from lastbolt.planning.closure import Closure
from lastbolt.planning.named_work import is_named
from lastbolt.planning.names import words
from lastbolt.planning.problems import circular, unknown_subject
from lastbolt.planning.reach import Asker
from lastbolt.planning.state import Done
from lastbolt.words.citation import Citation, PdfPlace
from lastbolt.words.job import Job, ProcedureDone, QuestionAnswered, SetAside, StepDone, StepStarted
from lastbolt.words.machine import Machine, Procedure, Reference
from lastbolt.words.plan import LeftOut, Open, OpenKind
from lastbolt.words.problem import Problem
from lastbolt.words.standing import standing
from lastbolt.words.where import places

ASIDE = "or set it aside by name and reason if it does not apply here."
VARIANT = "Give the engine's variant and serial number in its file, or answer yes or no in the job."
FINE_REVERSED = ("resolved", "doubtful", "self", "in words")
LOOSENS = (*TAKES_OFF, "loosen")
ANOTHER_MODEL = (
    "Is it the job of this machine, planned with this edition of its manual? Its other ticks may be of other "
    "sections of the same number. Say it again for this model, and name the machine in the job file."
)
MOST_NAMED = 8
OF_THE_PLAN = (StepStarted, StepDone, ProcedureDone, SetAside, QuestionAnswered)
OfThePlan = StepStarted | StepDone | ProcedureDone | SetAside | QuestionAnswered


def open_points(closure: Closure, asker: Asker) -> tuple[Open, ...]:
    """Everything unresolved, unexplained or unanswered, in the order of the plan."""
    book = asker.book
    found: list[Open] = []
    planned = {line.procedure for line in closure.lines}
    for reference, procedure in closure.references:
        found += _of_reference(reference, asker, procedure, planned)
    for line, asking in closure.questions:
        kind: OpenKind = "variant" if _by_variant(asking, book) else "question"
        do = f"Answer it in the job (yes, no, or which), {ASIDE}"
        said = f"{line.number}: {line.question} {line.words}"
        found.append(Open(kind, said, do, line.id, line.choices, citations=line.citations))
    found += _variants(closure, asker)
    found += [_circle(one, book) for one in closure.circles]
    found += [_empty(one) for one in closure.empty]
    return (*found, *_unread(book.machine), *_pages(book.machine))


def _by_variant(reference: Reference, book: Book) -> bool:
    needs = book.needs(reference)
    return any(book.applies(book.procedures[need.procedure].applies) == "unknown" for need in needs)


def _settled(reference: Reference, asker: Asker) -> bool:
    """Whether a person's word, or another variant, leaves nothing open about where it leads."""
    answer = asker.done.answer(reference.id)
    if reference.id in asker.done.aside or answer in asker.book.procedures:
        return True
    if answer == "no" and reference.condition:
        return True
    if answer == "yes" and reference.status == "doubtful" and reference.to:
        return True
    return asker.applies(reference.id, reference.applies) == "no"


def _of_reference(
    reference: Reference, asker: Asker, procedure: str, planned: Container[str]
) -> Iterator[Open]:
    if _settled(reference, asker) or (reference.role == "reverse of" and reference.status in FINE_REVERSED):
        return
    book, choices = asker.book, reference.to
    said = f'{book.procedures[procedure].number} says "{reference.words}"'.strip()
    do = f"Look it up in the source and answer which section is meant, {ASIDE}"
    kind: OpenKind = "reference"
    wrong = ""
    match reference.status:
        case "dangling":
            wrong = f", and there is no {' and no '.join(reference.missing) or 'such place'}."
        case "self":
            wrong = ", which is itself."
        case "other book":
            wrong, do = ": that is another book, which was not read.", f"Read that book too, {ASIDE}"
        case "ambiguous":
            kind, wrong = "ambiguous", f", which can mean {_names(choices, book)}."
        case "doubtful":
            wrong, do = _doubted(reference, book)
        case "resolved" if reference.role == "before":
            wrong = _narrowed_badly(reference, book)
        case "resolved" if reference.role == "see":
            wrong, do = _only_seen(reference, book, planned)
    if wrong:
        yield Open(kind, said + wrong, do, reference.id, choices, (), reference.citations)
    elif reference.role == "before" and asker.applies(reference.id, reference.applies) == "unknown":
        said += f", only for {limits(reference.applies)}; is this engine one of them?"
        yield Open("variant", said, VARIANT, reference.id, choices, (), reference.citations)


def _doubted(reference: Reference, book: Book) -> tuple[str, str]:
    """What is in doubt about a reference, and what settles it."""
    names = _names(reference.to, book)
    if not reference.to:
        do = f"Look at the page and answer which section is meant, {ASIDE}"
        return ", which names no place.", do
    if reference.role == "before":
        do = f"Look at the page and answer yes, or which section is meant, {ASIDE}"
        return f"; it was taken as {names}, with doubt.", do
    do = f"Look at the page and answer yes when it must come first, or which section is meant, {ASIDE}"
    return f"; it names {names}, and nothing of that is in this plan because of it.", do


def _only_seen(reference: Reference, book: Book, planned: Container[str]) -> tuple[str, str]:
    """A "see" that leads to work which takes something off and stands nowhere in the plan."""
    needs = [need.procedure for need in book.needs(reference)]
    missed = [one for one in needs if one not in planned]
    if is_named(reference):
        missed = missed if len(missed) == len(needs) else []
    else:
        missed = [one for one in missed if book.procedures[one].deed in LOOSENS]
    if not missed:
        return "", ""
    do = f"Look whether it must be done first: answer yes, {ASIDE}"
    return f"; {_names(missed, book)} is not in this plan.", do


def _narrowed_badly(reference: Reference, book: Book) -> str:
    lost = book.leads_nowhere(reference)
    if lost or not reference.to:
        return f", and {_names(lost, book)} holds no steps." if lost else ", which leads nowhere."
    doubts = [book.span(need).doubt for need in book.needs(reference)]
    doubt = next((one for one in doubts if one), "")
    return f"; {doubt}. More steps than it says may stand in this plan." if doubt else ""


def _names(ids: Iterable[str], book: Book) -> str:
    said = []
    for one in ids:
        procedure = book.procedures.get(one)
        said.append(f"{procedure.number} {procedure.title}" if procedure else one.rpartition("/")[2])
    return " or ".join(said) or "nothing"


def _variants(closure: Closure, asker: Asker) -> Iterator[Open]:
    """Procedures and steps that may or may not be for this engine."""
    for line in closure.lines:
        if not line.only_if or line.kind not in ("opening", "step"):
            continue
        book = asker.book
        limited = book.procedures[line.procedure] if line.kind == "opening" else book.steps[line.step][1]
        if asker.applies(line.id, limited.applies) == "unknown":
            name = (
                f"{line.number} {line.words}" if line.kind == "opening" else f"{line.number} step {line.mark}"
            )
            said = f"{name} is only for {limits(limited.applies)}; is this engine one of them?"
            yield Open("variant", said, VARIANT, line.id, citations=line.citations)


def _empty(procedure: Procedure) -> Open:
    name = f"{procedure.number} {procedure.title}".strip()
    do = f"Look at the page; what stands there is not in this plan. Put the model file right, {ASIDE}"
    said = f"No step was read in {name}, which is needed."
    return Open("page", said, do, procedure.id, citations=procedure.citations)


def without_steps(goals: Iterable[str], closure: Closure, book: Book) -> tuple[Open, ...]:
    """A point for each goal that has no step of its own and asks for states in words: they may be its steps.

    A goal that only sends on to other sections is none of these.
    """
    empty = {procedure.id for procedure in closure.empty}
    own = [book.procedures[one] for one in goals if one not in empty]
    return tuple(
        _empty(one)
        for one in own
        if not one.steps and any(reference.status == "in words" for reference in one.before)
    )


def _circle(circle: Circle, book: Book) -> Open:
    names = [book.procedures[one].number or book.procedures[one].title for one in circle.members]
    cited = [citation for reference in circle.references for citation in reference.citations[:1]]
    cited += [] if cited else [c for one in circle.members for c in book.procedures[one].citations[:1]]
    said = (
        f"{names[0]} needs itself."
        if len(names) == 1
        else f"Sections need each other: {', '.join(names[:MOST_NAMED])}"
        + (f" and {len(names) - MOST_NAMED} more." if len(names) > MOST_NAMED else ".")
    )
    do = (
        "Decide with the pages which comes first, and set the other reference aside by name and reason; "
        "until then the plan takes the one met first as the outer one."
    )
    subject = circle.references[-1].id if circle.references else circle.members[0]
    return Open("cycle", said, do, subject, (), circle.members, tuple(dict.fromkeys(cited)))


def _unread(machine: Machine) -> Iterator[Open]:
    """Files of which a part is missing, so that nobody can say which pages were not read."""
    for problem in machine.problems:
        if problem.code in words()["unread"]["codes"]:
            said = f"{problem.where}: {problem.what}"
            yield Open("page", said, problem.do, problem.where, citations=problem.citations)


def _pages(machine: Machine) -> Iterator[Open]:
    titles = {source.id: source.title or source.id for source in machine.sources}
    for page in machine.pages:
        if page.state != "unexplained":
            continue
        on = page.called()
        said = f"{titles.get(page.source, page.source)}, {on} is not explained"
        place = PdfPlace(page.pdf_page, page.printed_page)
        yield Open(
            "page",
            f"{said}{': ' + page.why if page.why else ''}.",
            "Look at the page; what stands there is not in this plan.",
            f"{page.source}/page/{page.pdf_page}", citations=(Citation(page.source, place),),
        )  # fmt: skip


def problems_of(opens: Iterable[Open], job: Job | None, machine: Machine) -> tuple[Problem, ...]:
    """The circles, and words of the job that nothing in the model answers to: the rest is the reader's."""
    said = [circular(item.words, places(item.citations), item.do, item.citations)
            for item in opens if item.kind == "cycle"]  # fmt: skip
    return (*said, *_unknown(job, machine))


def of_another_model(job: Job | None, machine: Machine) -> tuple[Open, ...]:
    """That the job speaks of what the model does not have: what else it ticks may be meant otherwise."""
    unknown = [problem.what for problem in _unknown(job, machine)]
    if not unknown:
        return ()
    more = f" (and {len(unknown) - 1} more)" if len(unknown) > 1 else ""
    return (Open("job", f"{unknown[0].rstrip('.')}{more}.", ANOTHER_MODEL),)


def _unknown(job: Job | None, machine: Machine) -> Iterator[Problem]:
    """Events that name a step, procedure or reference that the model does not have."""
    events = [event for _, event in standing(job) if isinstance(event, OF_THE_PLAN)]
    if not events:
        return
    known = {procedure.id for procedure in machine.procedures}
    for procedure in machine.procedures:
        known.update(reference.id for reference in (*procedure.before, *procedure.after))
        for step in procedure.steps:
            known.add(step.id)
            known.update(reference.id for reference in step.references)
    for event in events:
        subject = _subject(event)
        if subject not in known:
            yield unknown_subject(subject, event.id)


def _subject(event: OfThePlan) -> str:
    match event:
        case ProcedureDone():
            return event.procedure
        case SetAside():
            return event.reference
        case QuestionAnswered():
            return event.question
    return event.step


def set_aside(closure: Closure, done: Done) -> tuple[LeftOut, ...]:
    """What was left out on purpose: other variants, and what a person set aside with a reason."""
    aside = [
        LeftOut(reference.id, reference.words, event.reason, event.by, event.id, reference.citations)
        for reference, _ in closure.references
        if (event := done.aside.get(reference.id))
    ]
    openings = [line for line in closure.lines if line.kind == "opening"]
    aside += [
        LeftOut(line.id, line.words, event.reason, event.by, event.id, line.citations)
        for line in openings
        if (event := done.aside.get(line.id))
    ]
    return (*closure.left_out, *aside)
