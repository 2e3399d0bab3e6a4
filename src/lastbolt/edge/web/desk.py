"""The correcting desk: one model, its corrections file and one goal, held between requests."""

import secrets
import threading
from collections.abc import Callable, Mapping
from datetime import datetime
from pathlib import Path
from typing import Any, NamedTuple

import msgspec
from msgspec import Struct

from lastbolt.app.correcting_shown import FactShown, SectionShown, Shown, needed, sections, shown
from lastbolt.app.make_plan import make_plan
from lastbolt.app.put_right import Righted, facts_shown, put_right, rules
from lastbolt.correcting.edited import NEEDS_REASON, SORTS
from lastbolt.correcting.facts import Fact
from lastbolt.correcting.said import words_of
from lastbolt.edge import corrections_file
from lastbolt.edge.plain_text import plain_values
from lastbolt.searching.index import Index, Passage
from lastbolt.words.corrections import Correction, StepMissing, Withdrawn
from lastbolt.words.engine import Engine
from lastbolt.words.job import Job
from lastbolt.words.machine import Machine
from lastbolt.words.plan import Plan
from lastbolt.words.problem import Problem, Refusal

MOST_AT_ONCE = 200
LONGEST = 4000
"""Letters in one field of a correction."""


class Papers(Struct, frozen=True):
    """What the desk was opened with."""

    machine: Machine
    corrections: Path
    goal: str = ""
    engine: Engine | None = None
    job: Job | None = None
    by: str = ""


class Spot(NamedTuple):
    """A page of a source, or lines of one that has no pages."""

    source: str
    page: int = 0
    file: str = ""
    first: int = 0
    last: int = 0

    def holds(self, fact: FactShown) -> bool:
        """Whether the fact stands there."""
        if fact.source != self.source:
            return False
        if self.page:
            return fact.page == self.page
        return fact.file == self.file and self.first <= fact.line <= self.last and fact.line > 0


class Portion(Struct, frozen=True):
    """Some lines of the list, from the one asked for; `total` of them in all."""

    total: int
    first: int
    facts: tuple[FactShown, ...]


class State(Struct, frozen=True):
    """What stands above the list. `seen`: the state of the file that an answer must name to be saved."""

    machine: str
    goal: str
    sentence: str
    complete: bool
    seen: str
    by: str
    counts: dict[str, int]
    last: str = ""
    """The newest correction in words: what undo takes back."""


class Desk:
    """Answers of one correcting session; each change is written before it is answered."""

    def __init__(self, papers: Papers, passages: Callable[[], tuple[Passage, ...]]) -> None:
        self._papers = papers
        self._passages = passages
        self._index: Index | None = None
        self._lock = threading.RLock()
        self._indexing = threading.Lock()
        self._state = ""
        self._rules = rules()
        self._refresh(corrections_file.read(papers.corrections))

    @property
    def machine(self) -> Machine:
        """The model as it was read."""
        return self._papers.machine

    def state(self) -> State:
        """What stands above the list; what another process has written is seen here."""
        with self._lock:
            self._look_again()
            counts: dict[str, int] = {}
            for fact in self._shown.facts:
                counts[fact.group] = counts.get(fact.group, 0) + 1
            newest = self._newest()
            return State(
                self.machine.name, self._papers.goal, self._shown.sentence, self._shown.complete, self._state,
                self._papers.by, counts, words_of(newest) if newest else "",
            )  # fmt: skip

    def listed(self, view: str, first: int, count: int, spot: Spot | None = None) -> Portion:
        """A portion of the facts to do, of those put right, or of one page in its order."""
        with self._lock:
            facts = self._shown.facts
        if spot is not None:
            chosen = [one for one in facts if spot.holds(one)]
            chosen.sort(key=lambda one: (one.line, (one.box or (0, 0, 0, 0))[1]))
        elif view == "done":
            chosen = [one for one in facts if one.group == "put right"]
        elif view == "all":
            chosen = [one for one in facts if one.group != "orphan"]
        else:
            chosen = [one for one in facts if one.group not in ("put right", "rest")]
        first = max(0, first)
        return Portion(len(chosen), first, tuple(chosen[first : first + min(max(1, count), MOST_AT_ONCE)]))

    def sections(self) -> tuple[SectionShown, ...]:
        """Every procedure, to lead to or to put a step into."""
        with self._lock:
            return sections(self._righted.machine, self._plan)

    def save(self, asked: Mapping[str, Any]) -> State:
        """Write one correction.

        Raises:
            Refusal: it says nothing that can be taken, or the file changed since it was looked at.
        """
        with self._lock:
            self._look_again()
            correction, righted = self._made(asked)
            kept = corrections_file.add(
                self._papers.corrections, correction, str(asked.get("seen", "")), self.machine.name
            )
            self._refresh(kept, righted)
            return self.state()

    def undo(self, seen: str, by: str, correction: str = "") -> State:
        """Take back a correction, or the newest: a new line in the file says so, none is deleted."""
        with self._lock:
            self._look_again()
            every = {one.id: one for one in self._corrections.corrections}
            gone = every.get(correction) if correction else self._newest()
            if gone is None or gone.id in self._withdrawn():
                raise _refused("There is nothing to take back.", "Look at the list again.")
            made = Withdrawn(
                id=_new_id(), fact=gone.fact, saw=gone.saw, by=_author(by), at=_now(), withdraws=gone.id
            )
            self._refresh(corrections_file.add(self._papers.corrections, made, seen))
            return self.state()

    def index(self) -> Index:
        """The words of all sources; made once, while everything else is answered."""
        with self._indexing:
            if self._index is None:
                self._index = Index(self._passages())
            return self._index

    def _look_again(self) -> None:
        """Read the file again when another hand has written it."""
        kept = corrections_file.read(self._papers.corrections)
        if kept.state != self._state:
            self._refresh(kept)

    def _refresh(self, kept: corrections_file.Kept, righted: Righted | None = None) -> None:
        papers = self._papers
        self._corrections, self._state = kept.corrections, kept.state
        self._righted = righted or put_right(papers.machine, kept.corrections, self._rules)
        machine = self._righted.machine
        self._plan: Plan | None = (
            make_plan(machine, papers.goal, papers.engine, papers.job) if papers.goal else None
        )
        self._facts: dict[str, Fact] = {}
        facts = facts_shown(papers.machine, self._righted, needed(self._plan), self._rules)
        for fact in facts:
            self._facts.setdefault(f"{fact.id}\n{fact.saw}", fact)
        self._shown: Shown = shown(papers.machine, self._righted, self._plan, facts)

    def _made(self, asked: Mapping[str, Any]) -> tuple[Correction, Righted]:
        """The correction that a browser asks for, and the model with it."""
        fact = self._facts.get(f"{asked.get('fact', '')}\n{asked.get('saw', '')}")
        if fact is None:
            raise _refused("There is no such fact any more.", "Look at the list again.")
        fields = {name: value for name, value in asked.items() if name not in ("seen", "saw", "fact", "by")}
        if any(isinstance(value, str) and len(value) > LONGEST for value in fields.values()):
            raise _refused(f"More than {LONGEST} letters in one field.", "Say it shorter.")
        whole = {
            **plain_values(fields), "id": _new_id(), "fact": fact.id, "saw": fact.saw, "read_as": fact.seen,
            "by": _author(str(asked.get("by", ""))), "at": _now(),
        }  # fmt: skip
        if fact.citations:
            whole["seen_at"] = msgspec.to_builtins(fact.citations[0])
        try:
            made: Correction = msgspec.convert(whole, Correction)
        except msgspec.ValidationError as error:
            raise _refused(f"This cannot be taken: {error}.", "Put it right and save again.") from None
        return made, self._tried(made, fact)

    def _tried(self, made: Correction, fact: Fact) -> Righted:
        """The model with it. Refuses what it could not take: that would be an orphan from the first day."""
        if isinstance(made, Withdrawn) or fact.sort not in SORTS.get(type(made), (fact.sort,)):
            raise _refused("This cannot be said of such a fact.", "Choose another correction.")
        reason = getattr(made, "reason", "")
        if fact.sort in NEEDS_REASON and not reason.strip():
            raise _refused(
                "Say what you saw there.", "A page or a doubt is settled only with words of your own."
            )
        one = msgspec.structs.replace(self._corrections, corrections=(*self._corrections.corrections, made))
        if isinstance(made, StepMissing) and not made.words.strip():
            raise _refused("The step has no words.", "Type what stands there.")
        righted = put_right(self.machine, one, self._rules)
        why = next((orphan.why for orphan in righted.orphans if orphan.correction.id == made.id), "")
        if why:
            raise _refused(f"This cannot be taken: {why}.", "Put it right and save again.")
        return righted

    def _withdrawn(self) -> set[str]:
        gone: set[str] = set()
        for one in reversed(self._corrections.corrections):
            if isinstance(one, Withdrawn) and one.id not in gone:
                gone.add(one.withdraws)
        return gone

    def _newest(self) -> Correction | None:
        gone = self._withdrawn()
        every = reversed(self._corrections.corrections)
        return next((one for one in every if not isinstance(one, Withdrawn) and one.id not in gone), None)


def _author(name: str) -> str:
    said: str = plain_values(" ".join(name.split()))[:80]
    if not said:
        raise _refused("Nobody's name is given.", "Type your name: each correction carries it.")
    return said


def _refused(what: str, do: str) -> Refusal:
    return Refusal(Problem("LB-K04", what, "this correction", do, "stop"))


def _new_id() -> str:
    return f"c-{secrets.token_hex(5)}"


def _now() -> str:
    return datetime.now().astimezone().isoformat(timespec="seconds")
