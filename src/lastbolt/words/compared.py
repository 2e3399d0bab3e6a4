"""What two places say of one thing: whether they agree, disagree or cannot be set against each other."""

from typing import Literal

from msgspec import Struct

from lastbolt.words.citation import Citation
from lastbolt.words.problem import Problem

COMPARED_SCHEMA = "lastbolt.compared/1"

Verdict = Literal["agree", "disagree", "not comparable"]
Matter = Literal["count", "size", "torque", "wear limit", "two forms of one row"]


class Term(Struct, frozen=True, omit_defaults=True):
    """One summand: `count` pieces, `times` over. `count` None: a use without a number, which is at least one
    where `least` says so. `left_out`: why it was not added (an alternative, only for some engines)."""

    where: str
    count: int | None = None
    times: int = 1
    words: str = ""
    least: int = 0
    left_out: str = ""
    citations: tuple[Citation, ...] = ()


class Side(Struct, frozen=True, omit_defaults=True):
    """What one place says. `total`: the sum of its terms; `open`: it may be more than that."""

    place: str
    says: str
    terms: tuple[Term, ...] = ()
    total: int | None = None
    open: bool = False
    citations: tuple[Citation, ...] = ()


class Finding(Struct, frozen=True, omit_defaults=True):
    """One thing that two places state. `engines`: the variant it was compared for, where they differ."""

    verdict: Verdict
    matter: Matter
    what: str
    sides: tuple[Side, ...]
    why: str = ""
    within: str = ""
    """The assembly it was compared in; "": in the whole machine."""
    engines: str = ""
    code: str = ""
    """Of a disagreement that `lastbolt plan` tells too: the code of its problem."""


class Match(Struct, frozen=True, omit_defaults=True):
    """Two names, or two numbers, that may be one part: a proposal, on which nothing else rests."""

    one: Side
    other: Side
    why: str


class Compared(Struct, frozen=True, omit_defaults=True):
    """The document: disagreements first, then what cannot be compared, then what agrees.

    `alone`: rows of the machine's list that no other place names. `unused`: lists that were set against
    nothing, and why.
    """

    schema: str
    models: tuple[str, ...]
    findings: tuple[Finding, ...] = ()
    matches: tuple[Match, ...] = ()
    alone: tuple[str, ...] = ()
    unused: tuple[Side, ...] = ()
    problems: tuple[Problem, ...] = ()
    """Fields of the files that nobody reads, so that what they say was not compared."""
