"""A model as planning reads it: numbered, with the work that its sentences name."""

from functools import lru_cache

from lastbolt.planning.named_work import with_named_work
from lastbolt.planning.numbers import numbered
from lastbolt.planning.put_right import with_names_settled
from lastbolt.planning.told_back import with_ways_back
from lastbolt.words.machine import Machine


class _Same:
    """One machine, known by what it is: the same value made again is prepared again."""

    __slots__ = ("machine",)

    def __init__(self, machine: Machine) -> None:
        self.machine = machine

    def __hash__(self) -> int:
        return id(self.machine)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Same) and self.machine is other.machine


def prepared(machine: Machine) -> Machine:
    """The machine with its references completed and what people settled about them; made once for each."""
    return _prepared(_Same(machine))


@lru_cache(maxsize=2)
def _prepared(same: _Same) -> Machine:
    return with_names_settled(with_named_work(with_ways_back(numbered(same.machine))))
