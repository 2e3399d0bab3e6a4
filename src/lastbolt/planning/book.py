"""The model as planning needs it: procedures by id, where a reference leads, what applies here."""

from collections.abc import Iterable
from typing import Literal

from msgspec import Struct

from lastbolt.planning.names import stems
from lastbolt.words.machine import Applies, Machine, Procedure, Reference, Step

Applied = Literal["yes", "no", "unknown"]
BAD = ("ambiguous", "dangling", "self", "other book")
TAKES_OFF = ("remove", "separate", "drain")


class EngineKind(Struct, frozen=True):
    """Which of the machine's variants this engine is, as far as it is known."""

    variant: str = ""
    serial: int | None = None


class Need(Struct, frozen=True):
    """One procedure that a reference asks for, whole or from one step to another."""

    procedure: str
    from_step: str | None = None
    to_step: str | None = None


class Book:
    """Lookups over one machine, made once."""

    def __init__(self, machine: Machine, engine: EngineKind) -> None:
        self.machine, self.engine = machine, engine
        self.procedures = {procedure.id: procedure for procedure in machine.procedures}
        self.place = {procedure.id: number for number, procedure in enumerate(machine.procedures)}
        self.procedure_of_step: dict[str, str] = {}
        for procedure in machine.procedures:
            for step in procedure.steps:
                self.procedure_of_step[step.id] = procedure.id
        self._of_section = self._sections(machine)
        self._by_part: dict[str, list[Procedure]] = {}
        for procedure in machine.procedures:
            for part in procedure.parts:
                if procedure.deed in TAKES_OFF and (key := stems(part)):
                    self._by_part.setdefault(key[-1], []).append(procedure)

    def _sections(self, machine: Machine) -> dict[str, tuple[str, ...]]:
        """Section id -> the procedures in it, itself or its children."""
        numbered: dict[tuple[str, str], str] = {}
        for procedure in machine.procedures:
            numbered[procedure.id.partition("/")[0], procedure.number] = procedure.id
        found: dict[str, tuple[str, ...]] = {}
        for section in machine.sections:
            own = numbered.get((section.id.partition("/")[0], section.number)) if section.number else None
            if own:
                found[section.id] = (own,)
            for above in (section.parent,):
                if above and own:
                    found[above] = (*found.get(above, ()), own)
        return found

    def applies(self, applies: Applies) -> Applied:
        """Whether it is for this engine."""
        engine, answer = self.engine, "yes"
        if applies.variants:
            if not engine.variant:
                answer = "unknown"
            elif engine.variant.casefold() not in {variant.casefold() for variant in applies.variants}:
                return "no"
        if applies.from_serial is not None or applies.to_serial is not None:
            if engine.serial is None:
                return "unknown"
            low, high = applies.from_serial, applies.to_serial
            if (low is not None and engine.serial < low) or (high is not None and engine.serial > high):
                return "no"
        return "unknown" if answer == "unknown" else "yes"

    def needs(self, reference: Reference) -> tuple[Need, ...]:
        """The procedures that the reference leads to, each once, in its own order."""
        found: list[Need] = []
        for target in reference.to:
            if target in self.procedures:
                found.append(Need(target, reference.from_step, reference.to_step))
            elif target in self.procedure_of_step:
                mark = self.step(target).mark
                found.append(Need(self.procedure_of_step[target], mark, mark))
            else:
                found += [Need(one) for one in self._of_section.get(target, ())]
        return tuple(dict.fromkeys(found))

    def step(self, step_id: str) -> Step:
        """The step of that id."""
        procedure = self.procedures[self.procedure_of_step[step_id]]
        return next(step for step in procedure.steps if step.id == step_id)

    def removal_named_in(self, words: str) -> str | None:
        """The one procedure that takes off the part these words name, when there is just one."""
        said = set(stems(words))
        found = {
            procedure.id
            for head in said
            for procedure in self._by_part.get(head, ())
            for part in procedure.parts
            if set(stems(part)) <= said
        }
        return found.pop() if len(found) == 1 else None

    def steps_of(self, need: Need) -> tuple[Step, ...]:
        """The steps a need asks for; all of them when its first or last mark is not found."""
        steps = self.procedures[need.procedure].steps
        if need.from_step is None:
            return steps
        marks = [step.mark for step in steps]
        last = need.to_step or need.from_step
        if need.from_step not in marks or last not in marks:
            return steps
        first = marks.index(need.from_step)
        end = max(number for number, mark in enumerate(marks) if mark == last or mark.startswith(last + "."))
        return steps[first : end + 1]


def binding(references: Iterable[Reference]) -> tuple[Reference, ...]:
    """The references that ask for work to be done before."""
    return tuple(reference for reference in references if reference.role == "before")
