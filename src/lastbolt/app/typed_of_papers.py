"""What typed lines say of a read manual and parts list: rows that belong to the joint, work that is done."""

from collections.abc import Mapping
from typing import NamedTuple

from lastbolt.app.typed_refused import Refused
from lastbolt.app.typed_ticks import typed_ticks
from lastbolt.app.typed_ties import typed_ties
from lastbolt.words.job import Event
from lastbolt.words.joint import Tie
from lastbolt.words.machine import Machine


class SaidOfPapers(NamedTuple):
    """Ties and ticks, the numbers of the lines that say them, and why other such lines say nothing."""

    ties: tuple[Tie, ...]
    ticks: tuple[Event, ...]
    lines: frozenset[int]
    refused: Mapping[int, Refused]


def said_of_papers(text: str, machine: Machine) -> SaidOfPapers:
    """All that typed lines say of the papers."""
    ties, ticks = typed_ties(text, machine), typed_ticks(text, machine)
    lines = frozenset((*ties.ties, *ticks.ticks))
    return SaidOfPapers(ties.every, ticks.every, lines, {**ticks.refused, **ties.refused})
