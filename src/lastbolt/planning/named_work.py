"""Work that a sentence names by the title of its section, without pointing there: it is not to be lost.

"First take off the belt guard" asks for the section "Taking off the belt guard", "and drain the body" for
"Draining the body". What stands before the first numbered step, or begins with "first", comes first; a later
step that names the work of another section is an open point while that section is not in the plan. So is work
of which it is in doubt whether a sentence forbids or asks for it ("never start before isolating the drive").
"""

import re
from collections.abc import Container, Iterable, Iterator

from msgspec import Struct
from msgspec.structs import replace

from lastbolt.planning.names import any_of, sentences, stems, words
from lastbolt.planning.not_so import not_so
from lastbolt.planning.titles_said import key_word, key_words, says_title, title_denied
from lastbolt.words.citation import Citation
from lastbolt.words.machine import Deed, Machine, Mention, Procedure, Reference, Step

NAMED = "/named/"
"""In the id of every reference that is made here."""
_OFF: tuple[Deed, ...] = ("remove", "separate")


def is_named(reference: Reference) -> bool:
    """Whether a reference was made here, by the name of the work."""
    return NAMED in reference.id


def with_named_work(machine: Machine, only: Container[str] | None = None) -> Machine:
    """The machine with a reference wherever a sentence names the work of another section.

    Args:
        machine: the model
        only: ids of the procedures whose sentences are looked at; all when it is None
    """
    namer = _Namer(machine)
    procedures = tuple(
        namer.completed(one) if only is None or one.id in only else one for one in machine.procedures
    )
    if all(new is old for new, old in zip(procedures, machine.procedures, strict=True)):
        return machine
    return replace(machine, procedures=procedures)


class _Said(Struct, frozen=True):
    """One sentence with what it names and what it points at."""

    words: str
    mentions: tuple[Mention, ...]
    references: tuple[Reference, ...]
    citations: tuple[Citation, ...]
    first: bool
    """Whether what it says comes before all the rest."""
    condition: str = ""


class _Asked(Struct, frozen=True):
    """Sections that a sentence names. `sure`: it is not in doubt whether they are to be done first."""

    to: tuple[Procedure, ...]
    said: _Said
    sure: bool


class _Namer:
    def __init__(self, machine: Machine) -> None:
        self.procedures = {procedure.id: procedure for procedure in machine.procedures}
        self.of_step = {step.id: p.id for p in machine.procedures for step in p.steps}
        self.by_part: dict[tuple[Deed, frozenset[str]], list[Procedure]] = {}
        self.by_title: dict[str, list[Procedure]] = {}
        for procedure in machine.procedures:
            for part in procedure.parts:
                if procedure.deed in (*_OFF, "drain") and (key := frozenset(stems(part))):
                    self.by_part.setdefault((_group(procedure.deed), key), []).append(procedure)
            if procedure.deed not in _OFF and (word := key_word(procedure.title)):
                self.by_title.setdefault(word, []).append(procedure)
        self.asks: dict[str, frozenset[str]] = {}

    def completed(self, procedure: Procedure) -> Procedure:
        """The procedure with the references that its sentences lack."""
        before = tuple(self._binding(one, procedure) for one in procedure.before)
        text = [
            _Said(one, (), before, procedure.citations, True, _case(one)) for one in sentences(procedure.text)
        ]
        asked = [found for said in text for found in self._titles(said, procedure)]
        more = _references(f"{procedure.id}{NAMED}t", asked)
        steps = tuple(self._step(step, procedure, lead) for step, lead in _with_lead(procedure.steps))
        same = not more and all(a is b for a, b in zip(before, procedure.before, strict=True))
        if same and all(a is b for a, b in zip(steps, procedure.steps, strict=True)):
            return procedure
        return replace(procedure, before=(*before, *more), steps=steps)

    def _step(self, step: Step, procedure: Procedure, lead: bool) -> Step:
        told = tuple(self._binding(one, procedure) for one in step.references) if lead else step.references
        asked: list[_Asked] = []
        for said in _said_by(step, told, lead):
            asked += self._parts(said, procedure)
            if said.first:
                asked += self._titles(said, procedure)
        more = _references(f"{step.id}{NAMED}", asked)
        if not more and all(a is b for a, b in zip(told, step.references, strict=True)):
            return step
        return replace(step, references=(*told, *more))

    def _binding(self, reference: Reference, own: Procedure) -> Reference:
        """A "see" whose sentence says the work of the place it points at, and so asks for it."""
        if reference.role != "see" or reference.status != "resolved" or reference.condition:
            return reference
        for target in reference.to:
            there = self.procedures.get(target)
            if there is not None and there is not own and says_title(reference.words, there.title):
                return replace(reference, role="before")
        return reference

    def _parts(self, said: _Said, own: Procedure) -> Iterator[_Asked]:
        """The sections that take off, or drain, just the parts that the sentence does."""
        for mention in said.mentions:
            key = frozenset(stems(mention.name))
            group = _group(mention.deed)
            if mention.kind is not None or (group, key) not in self.by_part or self._own(key, own):
                continue
            found = self._others(self.by_part[group, key], own)
            told = self._pointed_at(said, key, found) or _points_itself(said, mention)
            if found and not told and not not_so(said.words, mention.name, words()["named_work"]["not_so"]):
                yield _Asked(found, said, said.first)

    def _titles(self, said: _Said, own: Procedure) -> Iterator[_Asked]:
        """The sections whose title the sentence says in other forms of its words."""
        named = {
            one.id: (one, denied)
            for word in sorted(key_words(said.words))
            for one in self.by_title.get(word, ())
            if one is not own
            and says_title(said.words, one.title)
            and (denied := title_denied(said.words, one.title)) != "yes"
        }
        for doubt in (False, True):
            found = self._others([one for one, denied in named.values() if bool(denied) is doubt], own)
            if found and not self._pointed_at(said, frozenset(), found):
                yield _Asked(found, said, not doubt)

    def _others(self, found: Iterable[Procedure], own: Procedure) -> tuple[Procedure, ...]:
        """Of the same book where it has one, and none that itself needs what names it."""
        others = [one for one in found if one is not own and own.id not in self._needs(one)]
        book = own.id.partition("/")[0]
        near = [one for one in others if one.id.partition("/")[0] == book]
        return tuple(near or others)

    def _own(self, key: frozenset[str], own: Procedure) -> bool:
        return any(frozenset(stems(part)) == key for part in own.parts)

    def _pointed_at(self, said: _Said, key: frozenset[str], found: tuple[Procedure, ...]) -> bool:
        """Whether a pointer of the sentence leads there, or to work on a part of that name."""
        for reference in said.references:
            for target in reference.to:
                there = self.procedures.get(self.of_step.get(target, target))
                if there is None:
                    continue
                parts = [frozenset(stems(part)) for part in there.parts]
                if there in found or (key and any(key <= part or part <= key for part in parts if part)):
                    return True
        return False

    def _needs(self, procedure: Procedure) -> frozenset[str]:
        known = self.asks.get(procedure.id)
        if known is None:
            known = self.asks[procedure.id] = _reached(procedure, self.procedures, self.of_step)
        return known


def needs_of(procedure: Procedure, machine: Machine) -> frozenset[str]:
    """The ids of all procedures that one asks for, at any depth."""
    of_step = {step.id: one.id for one in machine.procedures for step in one.steps}
    return _reached(procedure, {one.id: one for one in machine.procedures}, of_step)


def _reached(
    procedure: Procedure, procedures: dict[str, Procedure], of_step: dict[str, str]
) -> frozenset[str]:
    found: set[str] = set()
    waiting = [procedure.id]
    while waiting:
        here = procedures.get(waiting.pop())
        if here is None:
            continue
        for one in (*here.before, *(one for step in here.steps for one in step.references)):
            for target in one.to if one.role == "before" else ():
                there = of_step.get(target, target)
                if there not in found:
                    found.add(there)
                    waiting.append(there)
    return frozenset(found)


def _group(deed: Deed) -> Deed:
    return "remove" if deed in _OFF else deed


def _with_lead(steps: tuple[Step, ...]) -> Iterator[tuple[Step, bool]]:
    """Each step, and whether it stands without a mark before the first that has one."""
    marked = any(step.mark for step in steps)
    lead = marked
    for step in steps:
        lead = lead and not step.mark
        yield step, lead


def _case(sentence: str) -> str:
    """The words that say in which case only, if there are any: "when the winch is cold"."""
    perhaps = words()["named_work"]["perhaps"]
    for clause in re.split(r"[,;:]", sentence):
        if phrase := any_of(clause, perhaps):
            at = re.search(rf"(?<![a-z]){re.escape(phrase)}", clause.lower())
            return clause[at.start() if at else 0 :].strip(" .")
    return ""


def _points_itself(said: _Said, mention: Mention) -> bool:
    """Whether a later step names the part in a sentence that points: where that leads is asked already."""
    name = mention.name.lower()
    return not said.first and any(name in one.words.lower() for one in said.references)


def _begins(sentence: str, phrases: Iterable[str]) -> str:
    low = sentence.lower()
    return next((one for one in phrases if re.match(rf"{re.escape(one)}\b", low)), "")


def _said_by(step: Step, told: tuple[Reference, ...], lead: bool) -> Iterator[_Said]:
    """The sentences of a step. What no single one of them says is said by all together."""
    known = words()["named_work"]["first"]
    first = lead or bool(_begins(step.words, known))
    pieces = sentences(step.words)
    left = list(step.mentions)
    for piece in pieces:
        low = piece.lower()
        here = tuple(one for one in left if one.name.lower() in low)
        left = [one for one in left if one not in here]
        case = _case(piece)
        if step.condition and (len(pieces) == 1 or not _case_of_another(step.condition, piece, pieces)):
            case = step.condition
        yield _Said(piece, here, told, step.citations, first or bool(_begins(piece, known)), case)
    if left:
        case = step.condition or _case(step.words)
        yield _Said(step.words, tuple(left), told, step.citations, first, case)


def _case_of_another(condition: str, piece: str, pieces: tuple[str, ...]) -> bool:
    """Whether a step's condition stands in one of its sentences, and not in this one."""
    asked = condition.lower()
    return asked not in piece.lower() and any(asked in one.lower() for one in pieces)


def _references(head: str, asked: Iterable[_Asked]) -> list[Reference]:
    """One for each set of sections that is asked for, the surest where it is asked for twice."""
    found: dict[frozenset[str], _Asked] = {}
    for one in asked:
        key = frozenset(procedure.id for procedure in one.to)
        if key not in found or (one.sure and not found[key].sure):
            found[key] = one
    return [_reference(f"{head}{number}", one) for number, one in enumerate(found.values(), 1)]


def _reference(name: str, asked: _Asked) -> Reference:
    said, to = asked.said, tuple(one.id for one in asked.to)
    return Reference(
        name, said.words, "before" if asked.sure else "see", "resolved", to, any_of=len(to) > 1,
        condition=said.condition if asked.sure else "", citations=said.citations,
    )  # fmt: skip
