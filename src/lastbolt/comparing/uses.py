"""How many of a part the steps of one assembly use: each use with its number, what is open, what left out."""

import re
from collections.abc import Iterable, Sequence
from functools import lru_cache

from msgspec import Struct

from lastbolt.comparing.part_names import is_sized, same_size, tokens
from lastbolt.comparing.spoken import words
from lastbolt.comparing.tables import called_step
from lastbolt.words.compared import Term
from lastbolt.words.machine import EVERY, Mention, Procedure, Step
from lastbolt.words.quantity import Kind

_ON = ("install", "join", "tighten", "other")
_OFF = ("remove", "separate", "loosen")
_TURNED = ("tighten", "loosen")
"""Deeds on what is there already: they count only where nothing else of that part is counted."""


class Use(Struct, frozen=True):
    """What one step says of one part. `implied`: a number that would follow from "one for each"."""

    procedure: Procedure
    step: Step
    mention: Mention
    count: int | None
    implied: int | None
    left_out: str

    @property
    def turned(self) -> bool:
        """Whether it speaks of what is there already."""
        return self.mention.deed in _TURNED


class Sum(Struct, frozen=True):
    """The uses of one part: the terms, their sum, why it may be more, and what one for each would make."""

    terms: tuple[Term, ...]
    total: int
    least: int
    open: tuple[str, ...]
    implied: int | None = None


def uses(procedures: Iterable[Procedure]) -> list[Use]:
    """Every use of a fastener or of a counted part, in the order of the steps; taking off only where nothing
    is put on."""
    found = [use for procedure in procedures for use in _of_procedure(procedure)]
    on = [use for use in found if use.mention.deed in _ON]
    return on or found


def _of_procedure(procedure: Procedure) -> list[Use]:
    found = []
    said: dict[str, str] = {}
    for step in procedure.steps:
        said[step.mark] = " ".join((step.words, *(caution.words for caution in step.cautions)))
        left_out = _sometimes(step, [text for mark, text in said.items() if _within(step.mark, mark)])
        before: int | None = None
        for mention in step.mentions:
            counted = mention.quantity.low is not None
            if mention.deed in (*_ON, *_OFF) and (counted or mention.deed != "other"):
                implied = before if not counted else None
                found.append(Use(procedure, step, mention, _plain(mention), implied, left_out))
            if counted:
                before = mention.quantity.low
    return found


def _within(mark: str, above: str) -> bool:
    return bool(above) and (mark == above or mark.startswith(f"{above}."))


def _plain(mention: Mention) -> int | None:
    """The number of a plain count; "the other two" are two more."""
    quantity = mention.quantity
    if quantity.kind not in ("exactly", "remaining") or quantity.per in ("side", "each", "assembly"):
        return None
    return quantity.low


def _sometimes(step: Step, said: Sequence[str]) -> str:
    """Why not every machine needs the step."""
    if step.applies != EVERY or step.condition:
        return step.applies.words or (f"if {step.condition}" if step.condition else "only for some")
    for text in said:
        found = _pattern("sometimes").search(text) or _bracketed_only().search(text)
        if found:
            return f'only sometimes ("{found[0].strip("() ")}")'
    return ""


@lru_cache(maxsize=4)
def _pattern(name: str) -> re.Pattern[str]:
    """Any of the language's phrases of one list, as whole words."""
    phrases = "|".join(map(re.escape, words()["uses"][name]))
    return re.compile(rf"\b(?:{phrases})\b", re.IGNORECASE)


@lru_cache(maxsize=1)
def _bracketed_only() -> re.Pattern[str]:
    only = "|".join(map(re.escape, words()["uses"]["only"]))
    return re.compile(rf"\([^()]{{0,40}}\b(?:{only})\)", re.IGNORECASE)


def stands_for_another(text: str) -> bool:
    """Whether the words of a row say that it stands for another one ("or", "alternative")."""
    return _pattern("instead").search(text) is not None


def repeated(procedures: Iterable[Procedure]) -> str:
    """The step that stands for more pieces than it names, as people call it; else nothing."""
    for procedure in procedures:
        for step in procedure.steps:
            if _pattern("again").search(step.words):
                return called(procedure, step)
    return ""


def of_size(every: Iterable[Use], kind: Kind) -> list[Use]:
    """The uses of one size."""
    return [use for use in every if same_size(use.mention.kind, kind)]


def of_name(every: Iterable[Use], name: str) -> list[Use]:
    """The counted uses of a part by its name; a size that only one of the two gives is no difference."""
    wanted = tokens(name)
    return [
        use
        for use in every
        if use.count is not None and not is_sized(use.mention.kind) and tokens(use.mention.name) == wanted
    ]


def unsized(every: Iterable[Use], name: str) -> list[Use]:
    """The uses of a fastener that give no size and may mean this one: "fit the screws"."""
    wanted = tokens(name)
    return [
        use
        for use in every
        if use.mention.kind is not None
        and not is_sized(use.mention.kind)
        and not use.turned
        and use.mention.deed != "other"
        and tokens(use.mention.name) <= wanted
    ]


def summed(some: Sequence[Use], every: Sequence[Procedure]) -> Sum:
    """The uses of one part added up."""
    firm = [use for use in some if not use.turned] or list(some)
    firm = _once(firm) if firm and firm[0].turned else firm
    added = [use for use in firm if not use.left_out]
    total = sum(use.count or 0 for use in added)
    told = {use.procedure.id for use in added if use.count is not None}
    unsaid = [use for use in added if use.count is None]
    bare = {use.procedure.id for use in unsaid} - told
    reasons = []
    if unsaid:
        reasons.append(f"{_listed(unsaid)} {'gives' if len(unsaid) == 1 else 'give'} no number")
    if any(use.left_out for use in firm):
        reasons.append(f"{_listed([use for use in firm if use.left_out])} not for every machine")
    if again := repeated(every):
        reasons.append(f"{again} stands for more than it names")
    implied = None
    if unsaid and all(use.implied is not None for use in unsaid):
        implied = total + sum(use.implied or 0 for use in unsaid)
    terms = tuple(term(use, 1 if use in unsaid and use.procedure.id in bare else 0) for use in firm)
    return Sum(terms, total, total + len(bare), tuple(reasons), implied)


def _once(turned: Sequence[Use]) -> list[Use]:
    """Of steps that only turn what is there, the one that names the most: they may all mean the same."""
    return [max(turned, key=lambda use: use.count or 0)]


def _listed(some: Sequence[Use]) -> str:
    return ", ".join(dict.fromkeys(called(use.procedure, use.step) for use in some))


def term(use: Use, least: int = 0) -> Term:
    """A use as a summand."""
    said = use.mention.quantity.words
    return Term(
        called(use.procedure, use.step), use.count, words=said, least=least, left_out=use.left_out,
        citations=use.step.citations[:1],
    )  # fmt: skip


def called(procedure: Procedure, step: Step) -> str:
    """A step with its section, as people call it."""
    return called_step(procedure.number or procedure.title, step)
