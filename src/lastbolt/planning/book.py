"""The model as planning needs it: procedures by id, where a reference leads, what applies here."""

from collections import defaultdict
from collections.abc import Iterable

from msgspec import Struct

from lastbolt.planning.names import same_part, stems
from lastbolt.planning.said_off import said_off
from lastbolt.planning.state import Done
from lastbolt.words.applies import applies_to, engines_words
from lastbolt.words.machine import Applies, Machine, Procedure, Reference
from lastbolt.words.quantity import Belief

BAD = ("ambiguous", "dangling", "self", "other book")
TAKES_OFF = ("remove", "separate", "drain")
PUTS_ON = ("install", "join", "tighten", "fill")


class EngineKind(Struct, frozen=True):
    """Which of the machine's variants this engine is, as far as it is known."""

    variant: str = ""
    serial: int | None = None


class Need(Struct, frozen=True):
    """One procedure that a reference asks for, whole or from one step to another."""

    procedure: str
    from_step: str | None = None
    to_step: str | None = None


class Span(Struct, frozen=True):
    """Places of the first and last step asked for; `doubt`: what is wrong with the marks as written."""

    first: int
    last: int
    doubt: str = ""


class Book:
    """Lookups over one machine, made once."""

    def __init__(self, machine: Machine, engine: EngineKind) -> None:
        self.machine, self.engine = machine, engine
        self.procedures = {procedure.id: procedure for procedure in machine.procedures}
        self.place = {procedure.id: number for number, procedure in enumerate(machine.procedures)}
        self.steps = {step.id: (p.id, step) for p in machine.procedures for step in p.steps}
        self.of_section = _sections(machine)
        self._by_part: dict[str, list[Procedure]] = {}
        for procedure in machine.procedures:
            for part in procedure.parts:
                if procedure.deed in TAKES_OFF and (key := stems(part)):
                    self._by_part.setdefault(key[-1], []).append(procedure)

    def applies(self, applies: Applies) -> Belief:
        """Whether it is for this engine."""
        return applies_to(applies, self.engine.variant, self.engine.serial)

    def needs(self, reference: Reference) -> tuple[Need, ...]:
        """The procedures that the reference leads to, each once, in its own order."""
        found: list[Need] = []
        for target in reference.to:
            if target in self.procedures:
                found.append(Need(target, reference.from_step, reference.to_step))
            elif target in self.steps:
                procedure, step = self.steps[target]
                found.append(Need(procedure, step.mark, step.mark))
            else:
                found += [Need(one) for one in self.of_section.get(target, ())]
        return tuple(dict.fromkeys(found)) if len(found) > 1 else tuple(found)

    def leads_nowhere(self, reference: Reference) -> tuple[str, ...]:
        """Those targets of the reference that hold no steps in this model."""
        known = (self.procedures, self.steps, self.of_section)
        return tuple(target for target in reference.to if not any(target in one for one in known))

    def mixed(self, reference: Reference) -> bool:
        """Whether it points at a chapter with work both off and on, so that not all of it can be meant."""
        for target in reference.to:
            if target in self.procedures or target in self.steps:
                continue
            deeds = {self.procedures[one].deed for one in self.of_section.get(target, ())}
            if deeds & set(PUTS_ON) and len(deeds) > 1:
                return True
        return False

    def removals_named_in(self, said: str) -> tuple[tuple[str, ...], bool]:
        """The procedures that take off the parts that these words say are off, one for each part, and whether
        the words ask for more. None when one part has no such procedure, or several."""
        spoken = said_off(said)
        found = [self._removal_of(part, spoken.deeds) for part in spoken.parts]
        if not all(found):
            return (), False
        return tuple(one for one in found if one), spoken.more

    def _removal_of(self, part: tuple[str, ...], deeds: tuple[str, ...]) -> str | None:
        fits = [
            (procedure, stems(name))
            for procedure in self._by_part.get(part[-1], ())
            if procedure.deed in deeds
            for name in procedure.parts
            if same_part(" ".join(part), name)
        ]
        exact = [procedure for procedure, name in fits if name == part]
        named = {procedure.id for procedure in (exact or [procedure for procedure, _ in fits])}
        return named.pop() if len(named) == 1 else None

    def span(self, need: Need) -> Span:
        """Which steps a need asks for; all of them, with doubt, when its marks are not found once each."""
        steps = self.procedures[need.procedure].steps
        whole = Span(0, len(steps) - 1)
        if need.from_step is None:
            return whole
        wanted = need.to_step or need.from_step
        first = [n for n, step in enumerate(steps) if _under(step.mark, need.from_step)]
        last = [n for n, step in enumerate(steps) if _under(step.mark, wanted)]
        if not first or not last:
            missing = need.from_step if not first else wanted
            return Span(whole.first, whole.last, f"there is no step {missing} there")
        if sum(step.mark in (need.from_step, wanted) for step in steps) > len({need.from_step, wanted}):
            return Span(first[0], last[-1], "more than one step there has that mark")
        if last[-1] < first[0]:
            return Span(whole.first, whole.last, f"step {wanted} stands before step {need.from_step} there")
        return Span(first[0], last[-1])


def _under(mark: str, wanted: str) -> bool:
    """Whether a step is the one marked so, or a sub-step of it: "5a" and "5.1" are under "5", "51" not."""
    if mark == wanted:
        return True
    rest = mark[len(wanted) :]
    return mark.startswith(wanted) and not (rest[0].isdigit() and wanted[-1:].isdigit())


def _sections(machine: Machine) -> dict[str, tuple[str, ...]]:
    """Section id -> the procedures in it: its own, else all below it, in the order of the document."""
    numbered: dict[tuple[str, str], list[str]] = defaultdict(list)
    for one in machine.procedures:
        if one.number:
            numbered[one.id.partition("/")[0], one.number].append(one.id)
    own = {
        section.id: tuple(found)
        for section in machine.sections
        if (found := numbered.get((section.id.partition("/")[0], section.number)))
    }
    parent = {section.id: section.parent for section in machine.sections}
    below: dict[str, list[str]] = defaultdict(list)
    for section_id, procedures in own.items():
        seen = {section_id}
        above = parent[section_id]
        while above and above not in seen:
            seen.add(above)
            below[above].extend(procedures)
            above = parent.get(above)
    return {**{one: tuple(many) for one, many in below.items()}, **own}


def limits(applies: Applies) -> str:
    """The engines it is for, in words.

    >>> limits(Applies(variants=("E",), from_serial=40211))
    'variant E, from serial no. 40211'
    """
    return applies.words or engines_words(applies)


def only_limits(reference: Reference) -> bool:
    """Whether its condition only repeats for which engines it is, so that the engine answers it."""
    return bool(reference.condition) and reference.condition.casefold() == reference.applies.words.casefold()


def binds(reference: Reference, done: Done) -> bool:
    """Whether it asks for work to be done before: the source says so, or a person who looked."""
    if reference.role == "before":
        return True
    return reference.role == "see" and done.answer(reference.id) not in ("", "no")


def binding(references: Iterable[Reference], done: Done) -> tuple[Reference, ...]:
    """The references that ask for work to be done before."""
    return tuple(reference for reference in references if binds(reference, done))
