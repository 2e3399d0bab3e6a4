"""What the page of corrections shows: every fact with its place and state, what the goal needs first."""

from collections.abc import Iterable, Mapping
from typing import Any, Literal

from msgspec import Struct
from msgspec.structs import replace

from lastbolt.app.fact_values import values_of
from lastbolt.app.put_right import Righted
from lastbolt.correcting.facts import Fact, Sort
from lastbolt.correcting.find import Orphan
from lastbolt.correcting.said import words_of
from lastbolt.words.citation import Box, CellPlace, Citation, PdfPlace, TextPlace, XmlPlace
from lastbolt.words.corrections import Confirmed, Correction, StepMissing
from lastbolt.words.machine import Machine
from lastbolt.words.plan import Open, Plan
from lastbolt.words.where import where

State = Literal["open", "doubtful", "as read", "confirmed", "put right", "orphan", "elsewhere"]
"""`open`: keeps the goal's plan from complete. `orphan`: a correction that no longer fits. `elsewhere`: a
point of the plan that is settled at the bench or in another file, not here."""
Group = Literal["orphan", "open", "doubtful here", "doubtful", "put right", "rest"]


class FactShown(Struct, frozen=True):
    """One line of the list. `here`: it stands in the work that the goal needs; `said`: what a person put
    right, `correction` its own id, to be taken back; `line`: where there are no pages, of `file`."""

    id: str
    sort: Sort
    state: State
    group: Group
    words: str
    read_as: str
    section: str
    where: str
    doubts: tuple[str, ...] = ()
    mark: str = ""
    under: str = ""
    of: str = ""
    source: str = ""
    page: int = 0
    line: int = 0
    file: str = ""
    box: Box | None = None
    said: str = ""
    by: str = ""
    correction: str = ""
    do: str = ""
    values: Mapping[str, Any] = {}
    """What the fact says now, by the fields of a correction of it."""


class SectionShown(Struct, frozen=True):
    """A procedure to lead to, or to put a step into: its steps by id, mark and first words."""

    id: str
    name: str
    steps: tuple[tuple[str, str], ...] = ()
    needed: bool = False


class Shown(Struct, frozen=True):
    """Everything there is to show, in the order in which it is to be looked at."""

    sentence: str
    complete: bool
    facts: tuple[FactShown, ...]


def shown(machine: Machine, righted: Righted, plan: Plan | None, facts: tuple[Fact, ...]) -> Shown:
    """The facts of a model put right as far as it is; with a plan, what it needs first."""
    view = _View(machine, righted, plan)
    made = [view.of_orphan(one) for one in righted.orphans]
    made += [view.of_fact(fact) for fact in facts]
    made += view.settled_elsewhere({fact.id for fact in facts})
    order = {name: number for number, name in enumerate(("orphan", "open", "doubtful here", "doubtful"))}
    made.sort(key=lambda one: order.get(one.group, len(order)))
    return Shown(_sentence(machine, plan, made), plan is not None and plan.complete, tuple(made))


def sections(machine: Machine, plan: Plan | None) -> tuple[SectionShown, ...]:
    """Every procedure, to be chosen from."""
    in_plan = needed(plan)
    return tuple(
        SectionShown(
            one.id, f"{one.number} {one.title}".strip(),
            tuple((step.id, f"{step.mark} {step.words[:60]}".strip()) for step in one.steps),
            one.id in in_plan,
        )
        for one in machine.procedures
    )  # fmt: skip


class _View:
    def __init__(self, machine: Machine, righted: Righted, plan: Plan | None) -> None:
        self.titles = {source.id: source.title or source.file for source in machine.sources}
        self.names = {one.id: f"{one.number} {one.title}".strip() for one in righted.machine.procedures}
        self.held: dict[str, Correction] = {
            one.fact: one for one in righted.held if not isinstance(one, StepMissing)
        }
        self.added = {one.id: one for one in righted.held if isinstance(one, StepMissing)}
        self.needed = needed(plan)
        self.rows = _rows(plan)
        self.pages = _pages(line.citations for line in plan.lines) if plan else frozenset()
        self.opens: dict[str, Open] = {}
        self.others: list[Open] = []
        for item in plan.open if plan else ():
            if ORPHAN_WORDS in item.words:
                continue
            if item.kind in SETTLED_HERE:
                self.opens.setdefault(item.subject, item)
            self.others.append(item)

    def of_fact(self, fact: Fact) -> FactShown:
        """A fact as a line of the list."""
        said = self.held.get(fact.id) or self.added.get(fact.id.rpartition("/added~")[2])
        item = self.opens.get(fact.id) or (self.opens.get(_named(fact)) if fact.sort == "problem" else None)
        state: State = "as read"
        if item is not None:
            state = "open"
        elif said is not None:
            state = "confirmed" if isinstance(said, Confirmed) else "put right"
        elif fact.doubts:
            state = "doubtful"
        made = self._line(fact, state, self._group(fact, state))
        return _with(
            made,
            doubts=(_tail(item.words, fact.saw),) if item and state == "open" else _short(fact),
            said=_said(said, fact) if said else "",
            by=author_of(said) if said else "",
            correction=said.id if said else "",
            values=values_of(fact, said),
        )

    def of_orphan(self, orphan: Orphan) -> FactShown:
        """A correction that no longer fits, with the page it was made on."""
        one = orphan.correction
        fact = orphan.now or orphan.elsewhere
        cited = (fact.citations[:1] if fact else ()) or ((one.seen_at,) if one.seen_at else ())
        sort: Sort = fact.sort if fact else "problem"
        shown_as = Fact(one.fact, sort, one.saw, one.read_as, fact.under if fact else "", citations=cited)
        why = f"{orphan.why[:1].upper()}{orphan.why[1:]}"
        other = orphan.now is not None and orphan.now.saw != one.saw
        now = f': "{orphan.now.saw}"' if orphan.now and other else "."
        made = self._line(shown_as, "orphan", "orphan")
        return _with(made, doubts=(f"{why}{now}",), said=words_of(one), by=author_of(one), correction=one.id)

    def settled_elsewhere(self, known: set[str]) -> list[FactShown]:
        """Points of the plan that no fact answers to: they are for the bench, or for another file."""
        made = []
        for item in self.others:
            here = item.kind in SETTLED_HERE and (item.subject in known or _is_problem(item))
            if here or item.kind == "field":
                continue
            fact = Fact(item.subject, "problem", item.words, "", citations=item.citations)
            made.append(_with(self._line(fact, "elsewhere", "open"), doubts=(), do=item.do))
        return made

    def _group(self, fact: Fact, state: State) -> Group:
        if state == "open":
            return "open"
        if state == "doubtful":
            return "doubtful here" if self._is_needed(fact) else "doubtful"
        return "put right" if state in ("put right", "confirmed") else "rest"

    def _is_needed(self, fact: Fact) -> bool:
        """Whether the goal's work rests on it: its procedures, the rows they name, doubts on their pages."""
        if fact.sort == "problem":
            return bool(_pages([fact.citations]) & self.pages)
        return fact.under in self.needed or fact.id in self.rows

    def _line(self, fact: Fact, state: State, group: Group) -> FactShown:
        citation = fact.citations[0] if fact.citations else None
        place = citation.place if citation else None
        return FactShown(
            fact.id, fact.sort, state, group, fact.saw, _read_as(fact, self.names),
            self.names.get(fact.under, ""), self._where(citation),
            mark=fact.mark, under=fact.under, of=fact.of,
            source=citation.source if citation else "",
            page=0 if isinstance(place, TextPlace) or not isinstance(place, PdfPlace) else place.pdf_page,
            line=place.line if isinstance(place, CellPlace | XmlPlace | TextPlace) else 0,
            file=place.file if isinstance(place, XmlPlace) else "",
            box=place.box if isinstance(place, PdfPlace) else None,
        )  # fmt: skip

    def _where(self, citation: Citation | None) -> str:
        return where(citation, self.titles.get(citation.source, "")) if citation else ""


ORPHAN_WORDS = "no longer fits, and is not used:"
SETTLED_HERE = ("reference", "ambiguous", "page")
"""Points that a correction can settle: which engine it is, or an answer at the bench, is no reading."""


def _said(one: Correction, fact: Fact) -> str:
    """The correction in words, without those that stand above it already."""
    return words_of(one).removeprefix(f'"{fact.saw}"').lstrip(": ")


def author_of(one: Correction) -> str:
    """Who made a correction, and when."""
    return f"{one.by}, {one.at.partition('T')[0]}" if one.at else one.by


def _with(made: FactShown, **more: object) -> FactShown:
    return replace(made, **more)


def needed(plan: Plan | None) -> frozenset[str]:
    """Ids of the procedures that the goal needs."""
    return frozenset(line.procedure for line in plan.lines if line.procedure) if plan else frozenset()


def _rows(plan: Plan | None) -> frozenset[str]:
    """Rows of parts lists and torque tables that the plan names."""
    if plan is None:
        return frozenset()
    named = (row for line in plan.lines for mention in line.mentions for row in mention.rows)
    return frozenset((*named, *(one.row for one in plan.way_back.fastenings if one.row)))


def _pages(cited: Iterable[tuple[Citation, ...]]) -> frozenset[tuple[str, int]]:
    places = ((one.source, one.place) for citations in cited for one in citations)
    return frozenset((source, place.pdf_page) for source, place in places if isinstance(place, PdfPlace))


def _named(fact: Fact) -> str:
    """What the plan calls an open point that rests on a problem of the reader."""
    return fact.told[0].where if fact.told else ""


def _is_problem(item: Open) -> bool:
    return item.kind == "page" and item.words.startswith(f"{item.subject}: ")


def _short(fact: Fact) -> tuple[str, ...]:
    """The doubts in words; of a reference that a problem speaks of only what that says."""
    if fact.sort == "reference" and fact.told:
        return tuple(_tail(problem.what, fact.saw) for problem in fact.told)
    if fact.sort == "reference":
        return tuple(_status(one) for one in fact.doubts)
    return fact.doubts


def _tail(said: str, quoted: str) -> str:
    """What is said of quoted words that already stand above it: only what follows them."""
    rest = said.partition(f'"{quoted}"')[2].lstrip(",;: ").removeprefix("and ")
    return f"{rest[:1].upper()}{rest[1:]}" if rest else said


STATUS = {
    "doubtful": "it is not sure where this leads",
    "ambiguous": "this may mean several places",
    "dangling": "this leads nowhere",
    "self": "this leads to itself",
    "other book": "this leads to a book that was not read",
    "in words": "this asks for a state in words only",
}


def _status(words: str) -> str:
    status = words.partition(":")[0].partition(" (")[0]
    said = STATUS.get(status, status)
    return f"{said[:1].upper()}{said[1:]}."


def _read_as(fact: Fact, names: Mapping[str, str]) -> str:
    if fact.sort != "reference":
        return fact.read_as
    status, _, to = fact.read_as.partition(": ")
    first = ", to be done first" if "(before)" in status else ""
    joint = " or " if " or " in to else ", "
    said = joint.join(names.get(one, one.rpartition("/")[2]) for one in to.split(joint)) if to else ""
    return f"leads to {said}{first}" if said else ""


def _sentence(machine: Machine, plan: Plan | None, made: Iterable[FactShown]) -> str:
    """The one sentence on top: how far the goal, or else the model, is."""
    every = list(made)
    doubts = sum(1 for one in every if one.state in ("doubtful", "orphan"))
    if plan is None:
        return f"{machine.name}: {_count(doubts, 'doubt')} to look at."
    opens = sum(1 for one in every if one.group == "open" or one.state == "orphan")
    goal = plan.goal[:1].upper() + plan.goal[1:]
    if plan.complete:
        return f"{goal}: the plan is complete."
    return f"{goal}: {_count(opens, 'point')} open."


def _count(number: int, noun: str) -> str:
    return f"{number or 'no'} {noun}{'' if number == 1 else 's'}"
