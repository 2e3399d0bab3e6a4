"""Claims with causes: the only language the tally's solver understands.

A claim is a linear relation over whole-number unknowns that holds unless one of its causes happened. How it
is wrong is left open. Nothing here knows bolts: a published diagnosis example is written the same way.
"""

from typing import Literal

from msgspec import Struct

Sense = Literal["=", "<=", ">="]
Verdict = Literal["free", "held", "not shown"]


class Unknown(Struct, frozen=True):
    """A whole number that is true now and not known: `lower <= value <= upper`."""

    id: str
    upper: int
    lower: int = 0


class Cause(Struct, frozen=True):
    """One way in which what was said can be wrong; `cost` 1, or 0 for a weak witness.

    `chance` is an assumed rate used only to rank explanations of equal cost, never in the verdict.
    """

    id: str
    kind: str
    cost: int = 1
    chance: float = 0.01
    words: str = ""


class Claim(Struct, frozen=True):
    """`sum(coefficient * unknown) sense bound`, unless one of `causes` happened; no causes: always true."""

    id: str
    kind: str
    terms: tuple[tuple[str, int], ...]
    sense: Sense
    bound: int
    causes: tuple[str, ...] = ()
    words: str = ""


class ClaimSet(Struct, frozen=True):
    """Everything the verdict rests on. `holders` are the unknowns whose sum H decides: free when H = 0."""

    unknowns: tuple[Unknown, ...]
    causes: tuple[Cause, ...]
    claims: tuple[Claim, ...]
    holders: tuple[str, ...]


class Settings(Struct, frozen=True):
    """What counts as shown, and how long to look for it: `seconds` of the library's own work on one question,
    `all_seconds` by the clock for the whole answer with building, proofs and next checks."""

    least_margin: int = 2
    most_mistakes: int = 1
    groups: int = 10
    seconds: float = 20.0
    all_seconds: float = 120.0


class Explanation(Struct, frozen=True):
    """A subset-minimal set of causes and one state of the unknowns (only the non-zero ones) that fits."""

    causes: tuple[str, ...]
    cost: int
    weight: float
    state: tuple[tuple[str, int], ...]


class Group(Struct, frozen=True):
    """Explanations that differ only by exchanging places (or lines) with identical claims."""

    first: Explanation
    alike: int = 1
    causes_alike: tuple[tuple[str, ...], ...] = ()
    """For each cause of `first`: the causes that could stand in its place (itself included)."""


class HolderProof(Struct, frozen=True):
    """Why `holders` cannot add up to 1 or more: disjoint sets of causes, none of which can be all innocent.

    `multipliers[i]` are weights (row, numerator, denominator) on claims, bounds and the row `held`, which add
    up to a contradiction once the causes of `conflicts[i]` are innocent: docs/tally.md, "Certificate".
    """

    holders: tuple[str, ...]
    conflicts: tuple[tuple[str, ...], ...]
    multipliers: tuple[tuple[tuple[str, int, int], ...], ...] = ()


class Certificate(Struct, frozen=True):
    """What a second, small program needs to check a `free` verdict from the evidence alone."""

    free_causes: tuple[str, ...]
    free_state: tuple[tuple[str, int], ...]
    proofs: tuple[HolderProof, ...]
    exhaustive_up_to: int | None = None
    """Set when some holders stand in no proof: no causes of this total cost explain those holders adding up
    to 1 or more, found by search."""
    crossing: tuple[HolderProof, ...] = ()
    """For holders in no proof: conflicts that may share causes, but no causes of total cost
    `exhaustive_up_to` or less meet them all. Whoever adds these up need not search for these holders."""


class Account(Struct, frozen=True):
    """The solver's answer. `None` for a cost means: no explanation exists, or not proved (see `limits`)."""

    verdict: Verdict
    free_cost: int | None
    held_cost: int | None
    margin: int | None
    proved: bool
    free: tuple[Group, ...] = ()
    held: tuple[Group, ...] = ()
    list_cut: bool = False
    limits: tuple[str, ...] = ()
    certificate: Certificate | None = None


class Answer(Struct, frozen=True):
    """One thing a check can find, and the claims (with their own causes) that it would add."""

    id: str
    claims: tuple[Claim, ...]
    causes: tuple[Cause, ...] = ()
    words: str = ""


class Check(Struct, frozen=True):
    """Something that could be looked at or counted next; `effort_min` is the time it takes, in minutes."""

    id: str
    effort_min: float
    answers: tuple[Answer, ...]
    words: str = ""


class Outlook(Struct, frozen=True):
    """What one answer would mean: how likely it is (assumed rates), and how likely held would then be."""

    answer: str
    chance: float
    held_chance: float


class Advice(Struct, frozen=True):
    """What one check is worth: nats of doubt about held or free removed, per minute of effort.

    `free_answer` is the answer that the leading explanation of free expects; `margin_if_free` is the margin
    if that answer comes, `None` when it was not worked out or not proved.
    """

    check: str
    value: float
    outlooks: tuple[Outlook, ...]
    free_answer: str | None = None
    margin_if_free: int | None = None
