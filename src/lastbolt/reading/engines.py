"""Which engines words single out: "from serial no. 1200 to 1250 and from 1290", "not for models H and K".

Of a list's remark nothing is concluded unless it was understood to its last word. Where papers differ in what
they mean by their words (common practice, no source), the reading that leaves out fewer engines is taken: the
engine whose number is itself a bound is never left out, and one bare number is no bound of any kind.
"""

import re
from collections.abc import Sequence
from typing import NamedTuple

from lastbolt.reading.engine_words import Word
from lastbolt.words.machine import Serials

_NAME = re.compile(r"[A-Za-z]|[A-Z]{2,4}|(?=.*[A-Z])(?=.*\d)[A-Z\d]+(?:-\d+)?")
_LONGEST_NAME = 8


class Engines(NamedTuple):
    """The engines of one condition, and the words it takes: from `first` up to before `after`."""

    serials: tuple[Serials, ...]
    variants: tuple[str, ...]
    negated: bool
    first: int
    after: int
    lone: bool = False
    """One number with nothing to say how far it reaches, or one that may be two ("100,200")."""


class _Lead(NamedTuple):
    """What stands before the numbers or names: "not fitted to", "only for", "introduced at"."""

    at: int
    said: frozenset[str]


class _Item(NamedTuple):
    """One number or run of a list, and how it was said."""

    run: Serials
    single: bool
    digits: int
    after: int
    grouped: bool = False


def engines_at(words: Sequence[Word], first: int) -> Engines | None:
    """The condition that begins at a word, as far as it goes; None: none does, or it may mean two things."""
    lead = _lead(words, first)
    if lead is None:
        return None
    return _by_serials(words, first, lead) or _by_variants(words, first, lead)


def _is(words: Sequence[Word], at: int, *sorts: str) -> bool:
    return at < len(words) and not words[at].sorts.isdisjoint(sorts)


def _lead(words: Sequence[Word], at: int) -> _Lead | None:
    """The words that lead up to the numbers or names; None where they say two things at once."""
    said: set[str] = set()
    while at < len(words):
        sort = _leading(words, at)
        if not sort:
            break
        turning = said & {"negation", "ends", "begins"}
        if turning and sort in ("negation", "ends", "begins"):
            return None
        if sort == "only" and turning:
            return None  # "not only for": for others too
        if sort == "at" and not turning - {"negation"}:
            return None
        to = at + 1 < len(words) and words[at + 1].text.lower() == "to"
        if to and words[at].sorts & {"fitted", "ends", "begins"}:
            return None  # "fitted to serial no. 900": on it, or up to it
        said.add(sort)
        at += 1
    return _Lead(at, frozenset(said))


_LEADING = ("negation", "ends", "begins", "fitted", "only", "lead", "filler")


def _leading(words: Sequence[Word], at: int) -> str:
    """What a word says before the numbers or names; empty where it is one of these itself."""
    sorts = words[at].sorts
    if "at" in sorts:
        return "filler" if words[at].text.lower() == "with" and _is(words, at + 1, "serial") else "at"
    if "variant" in sorts and _is(words, at + 1, "negation"):
        return "filler"
    return next((sort for sort in _LEADING if sort in sorts), "")


# ---- serial numbers ----------------------------------------------------------------------------------


def _by_serials(words: Sequence[Word], first: int, lead: _Lead) -> Engines | None:
    item = _item(words, lead.at, named=False)
    if item is None:
        return None
    items, joined = [item], [""]
    plural = any("plural" in word.sorts for word in words[lead.at : item.after])
    while (more := _next_item(words, items[-1])) is not None:
        joined.append(words[items[-1].after].text.lower())
        items.append(more)
    bounded = any(i.run.from_serial is None or i.run.to_serial is None for i in items)
    if len(items) > 1 and bounded and any(i.single for i in items):
        return None  # "up to serial no. 1000, 1500"
    negated = bool(lead.said & {"negation", "ends"})
    listed = all(i.single for i in items) and (plural or "," not in joined)
    if negated and len(items) > 1 and not listed:
        return None  # "not from 1000 to 1100 and from 1200"
    found = _of_begin_or_end(items, lead.said)
    if found is None:
        return None
    after = items[-1].after
    if negated and _is(words, after, "only"):
        return None
    turned = lead.said & {"begins", "ends"}
    plain = len(items) == 1 and item.single and not lead.said & {"only", "lead", "negation"}
    lone = not turned and ((plain and not _is(words, after, "only")) or any(i.grouped for i in items))
    return Engines(found, (), False, first, after, lone)


def _of_begin_or_end(items: Sequence[_Item], said: frozenset[str]) -> tuple[Serials, ...] | None:
    """The runs as the words before them mean them: "introduced at 1000" is from it, "deleted" before it."""
    runs = tuple(item.run for item in items)
    only = runs[0]
    single = len(items) == 1 and items[0].single
    if "begins" in said:
        if len(items) > 1 or only.from_serial is None:
            return None
        return (Serials(only.from_serial, None),) if single else runs
    if "ends" in said and single:
        return None if "lead" in said else (Serials(None, only.from_serial),)
    if said & {"negation", "ends"}:
        return _all_but(items)
    return runs


def _all_but(items: Sequence[_Item]) -> tuple[Serials, ...] | None:
    """All numbers but these; the bounds of a run themselves are kept, since papers differ in them."""
    if all(item.single for item in items):
        numbers = sorted({item.run.from_serial for item in items if item.run.from_serial is not None})
        starts = [None, *(number + 1 for number in numbers)]
        ends = [*(number - 1 for number in numbers), None]
        return tuple(
            Serials(a, b) for a, b in zip(starts, ends, strict=True) if a is None or b is None or a <= b
        )
    run = items[0].run
    below = () if run.from_serial is None else (Serials(None, run.from_serial),)
    above = () if run.to_serial is None else (Serials(run.to_serial, None),)
    return (*below, *above)


def _next_item(words: Sequence[Word], last: _Item) -> _Item | None:
    """The next number of a list: "1200, 1300", "1200; 1300-1400", "... and from 1290"."""
    at = last.after
    if at >= len(words) or not (words[at].text in (",", ";") or "names" in words[at].sorts):
        return None
    at += 1
    if words[at - 1].text in (",", ";") and _is(words, at, "names"):
        at += 1
    item = _item(words, at, named=True)
    if item is None or (
        abs(item.digits - last.digits) > 1 and not _is(words, at, "serial", "lower", "upper")
    ):
        return None
    return item


def _item(words: Sequence[Word], at: int, *, named: bool) -> _Item | None:
    """A number or a run of numbers with its bounds; `named`: a word for serial numbers stood before it."""
    bound = ""
    while at < len(words):
        sorts = words[at].sorts
        if "serial" in sorts:
            named = True
        elif not bound and sorts & {"lower", "upper", "between"}:
            bound = next(sort for sort in ("between", "lower", "upper") if sort in sorts)
        elif not (sorts & {"filler"} or (words[at].text == ":" and _is(words, at - 1, "serial"))):
            break
        at += 1
    if not named or at >= len(words) or words[at].number is None:
        return None
    first, digits = words[at].number, len(str(words[at].number))
    run = _run_to(words, at + 1, bound)
    if run is not None and first is not None:
        last, after = run
        if bound == "upper" or last < first:
            return None
        return _Item(Serials(first, last), first == last, digits, after)
    if bound == "between":
        return None
    made = _bounded(words, at + 1, bound, first, digits)
    return made and made._replace(grouped=made.single and words[at].grouped)


def _run_to(words: Sequence[Word], at: int, bound: str) -> tuple[int, int] | None:
    """The second number of a run, and where it ends: "- 2000", "to serial no. 2000"."""
    if not (_is(words, at, "range") or (bound == "between" and _is(words, at, "joins"))):
        return None
    at += 2 if _is(words, at + 1, "serial") else 1
    if at >= len(words) or (number := words[at].number) is None:
        return None
    return number, at + (2 if _is(words, at + 1, "inclusive") else 1)


def _bounded(words: Sequence[Word], at: int, bound: str, number: int | None, digits: int) -> _Item | None:
    """A number with "and up", "- up", "+" or nothing behind it, and with its bound before it."""
    end, side = _behind(words, at)
    if side and bound and side != bound:
        return None
    at, bound = (end, bound or side) if side else (at, bound)
    at += 1 if _is(words, at, "inclusive") else 0
    if bound == "lower":
        return _Item(Serials(number, None), False, digits, at)
    if bound == "upper":
        return _Item(Serials(None, number), False, digits, at)
    return _Item(Serials(number, number), True, digits, at)


def _behind(words: Sequence[Word], at: int) -> tuple[int, str]:
    """How far the words behind a number reach and which side they open: "& above" is "lower"."""
    dash = at < len(words) and words[at].text in "-–—−"
    then = at + 1 if dash or _is(words, at, "joins") else at
    side = "lower" if _is(words, then, "later") else "upper" if _is(words, then, "earlier") else ""
    follows = then + 1
    if side and not _is(words, follows, "serial", "variant", "known") and not _numbered(words, follows):
        return follows, side
    closed = at + 1 >= len(words) or words[at + 1].text in (",", ";", ".", ")")
    return (at + 1, "lower") if dash and closed else (at, "")


def _numbered(words: Sequence[Word], at: int) -> bool:
    return at < len(words) and words[at].number is not None


# ---- variants ----------------------------------------------------------------------------------------


def _by_variants(words: Sequence[Word], first: int, lead: _Lead) -> Engines | None:
    """ "models H and K", "for H", "H only": names behind a word for a kind, or known ones with a lead."""
    if lead.said & {"begins", "ends"}:
        return None
    at = lead.at
    named = _is(words, at, "variant")
    plural = _is(words, at, "plural")
    negated = "negation" in lead.said
    names: list[str] = []
    commas = False
    while True:
        called = _is(words, at, "variant")
        at += 1 if called else 0
        at += 1 if called and at < len(words) and words[at].text == ":" else 0
        if not _names_one(words, at, named=named):
            return None
        names.append(words[at].text)
        at += 1
        if at >= len(words) or not (words[at].text == "," or "names" in words[at].sorts):
            break
        then = at + 2 if words[at].text == "," and _is(words, at + 1, "names") else at + 1
        if not _is(words, then, "variant") and not _names_one(words, then, named=named):
            break
        commas = commas or words[at].text == ","
        at = then
    trailing = at
    while _is(words, trailing, "filler", "variant"):
        trailing += 1
    only = _is(words, trailing, "only")
    if negated and ((commas and not plural) or only):
        return None
    if not named and not (lead.said & {"lead", "only", "negation"} or only):
        return None
    return Engines((), tuple(dict.fromkeys(names)), negated, first, trailing if only else at)


def _names_one(words: Sequence[Word], at: int, *, named: bool) -> bool:
    """Whether a word is the name of a variant: a known one, or behind "model" one that looks like a name."""
    if at >= len(words):
        return False
    word = words[at]
    if "known" in word.sorts:
        return True
    if not named or word.sorts or len(word.text) > _LONGEST_NAME:
        return False
    return (word.number is not None and not word.grouped) or _NAME.fullmatch(word.text) is not None
