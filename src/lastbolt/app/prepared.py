"""A model as planning reads it: numbered, with the work that its sentences name."""

from lastbolt.planning.named_work import with_named_work
from lastbolt.planning.numbers import numbered
from lastbolt.planning.put_right import with_names_settled
from lastbolt.planning.told_back import with_ways_back
from lastbolt.words.machine import Machine


def prepared(machine: Machine) -> Machine:
    """The machine with its references completed and what people settled about them."""
    return with_names_settled(with_named_work(with_ways_back(numbered(machine))))
