"""Which sections of a plan part the joint, and which others are needed before it."""

from collections.abc import Iterator

from msgspec import Struct

from lastbolt.words.machine import Machine, Procedure


class PlanSections(Struct, frozen=True):
    """Ids of procedures: `closure`, all that the goal needs; `goals`, those that part the joint."""

    closure: tuple[str, ...] = ()
    goals: tuple[str, ...] = ()

    @property
    def every(self) -> tuple[str, ...]:
        """All of them, once or more."""
        return (*self.closure, *self.goals)

    def before(self, machine: Machine) -> Iterator[Procedure]:
        """The procedures that are needed and do not part the joint themselves, in the model's order."""
        for procedure in machine.procedures:
            if procedure.id in self.closure and procedure.id not in self.goals:
                yield procedure
