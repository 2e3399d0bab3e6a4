"""What putting a model right needs of the reading rules, handed in as values."""

from collections.abc import Callable, Container, Mapping
from typing import NamedTuple

from lastbolt.correcting.facts import Kept
from lastbolt.words.machine import Machine, Procedure, Step

WordsReader = Callable[[Step, Procedure, Machine], Step]
"""Reads the words of one step by the rules by which sources are read: the step with everything that they say;
id, mark, words and citations stay."""


class Rules(NamedTuple):
    """What applying needs of the reading rules. `apart`: codes of problems to be settled by themselves;
    `kept`: the facts of each procedure, so that only those that changed are listed anew."""

    read: WordsReader
    newton_metres: Mapping[str, float]
    apart: Container[str] = ()
    kept: Kept | None = None
