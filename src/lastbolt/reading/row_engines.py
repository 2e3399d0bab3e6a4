"""For which engines a row of a list is, by its remarks and its figure's title; or that nobody can say.

A row is left out of an engine's tally by this alone. So a condition counts only when its words were
understood to the last one; else the row stays possible and says why.
"""

import re
from collections.abc import Iterable, Sequence
from typing import NamedTuple

from lastbolt.reading.engine_words import Word, engine_words
from lastbolt.reading.engines import Engines, engines_at
from lastbolt.words.applies import in_both, is_limited, is_turned_round, limited_to, variant_key
from lastbolt.words.machine import EVERY, Applies, Serials

_SIGNS = ("serial", "variant", "known", "counters")
_COUNTED = ("serial", "counters")
"""Signs only where a number stands with them: "serial number plate" says nothing of engines."""
_CONDITIONS = frozenset(("serial", "counters", "negation", "lower", "upper"))
_BRACKETED = re.compile(r"\(([^()]+)\)")
_PIECES = re.compile(r"\s[–—-]\s|[,;:()]")
_SHOWN = 80


class Said(NamedTuple):
    """A condition and its words."""

    engines: Engines
    words: str


class RowEngines(NamedTuple):
    """The engines a row is for; `doubt`: why they are not known."""

    applies: Applies
    doubt: str = ""


def row_engines(title: str, cells: Sequence[str], known: Iterable[str] = ()) -> RowEngines:
    """The engines that a row is for by its figure's title and by each of its cells with remarks.

    `known`: names of variants.
    """
    names = tuple(known)
    titled = _of_title(title, names)
    of_title = together(titled or ())
    told = [(title, titled)]
    for cell in cells:
        if not (of_title is not None and _repeats(cell, of_title, names)):
            told.append((cell, _of_remarks(cell, names)))
    doubtful = [text for text, found in told if found is None]
    if doubtful:
        return _not_understood("; ".join(doubtful))
    found = [one for _, conditions in told for one in conditions or ()]
    applies = together(found)
    return RowEngines(applies) if applies is not None else _not_understood("; ".join(t for t, c in told if c))


def heading_engines(heading: str, name: str, known: Iterable[str] = ()) -> RowEngines:
    """The engines that a column of quantities is for: the variant of that name, or a condition in words.

    >>> heading_engines("H", "H").applies.variants, heading_engines("to S/N 1000", "").applies.to_serial
    (('H',), 1000)
    """
    if not limits_by_number(heading):
        return RowEngines(Applies(variants=(name,), words=heading))
    found = row_engines("", (heading,), known)
    return found if is_limited(found.applies) else _not_understood(heading)


def limits_by_number(heading: str) -> bool:
    """Whether the heading of a column of quantities says more than the name of a variant."""
    return any(word.sorts & _CONDITIONS for word in engine_words().words(heading))


def together(conditions: Sequence[Said]) -> Applies | None:
    """What several conditions single out that all must hold; None where that is no list of engines."""
    if len(conditions) > 1 and any(said.engines.negated for said in conditions):
        return None
    numbers: tuple[Serials, ...] = ()
    variants: tuple[str, ...] | None = None
    for said in conditions:
        numbers = in_both(numbers, said.engines.serials)
        if said.engines.variants:
            keys = {variant_key(name) for name in said.engines.variants}
            both = tuple(v for v in variants if variant_key(v) in keys) if variants is not None else None
            variants = said.engines.variants if both is None else both
    if variants == () or any(is_turned_round(run) for run in numbers):
        return None
    words = "; ".join(dict.fromkeys(said.words for said in conditions))
    if conditions and conditions[0].engines.negated and variants:
        return Applies(words=words, except_variants=variants)
    return limited_to(numbers, words, variants or ()) if conditions else EVERY


def _not_understood(text: str) -> RowEngines:
    said = " ".join(text.split())
    said = said if len(said) <= _SHOWN else f"{said[: _SHOWN - 1]}…"
    doubt = f'which engines "{said}" means is not understood; it is kept for every engine'
    return RowEngines(Applies(words=said), doubt)


def _of_remarks(text: str, known: Sequence[str]) -> list[Said] | None:
    """The conditions of a remark; None: there is one in it, and it was not understood to the last word."""
    words = engine_words().words(text, known)
    if not _speaks_of_engines(words):
        return []
    found: list[Said] = []
    at, apart = 0, False
    while at < len(words):
        if words[at].text in ",;.()" or "harmless" in words[at].sorts:
            apart = apart or words[at].text in ";." or "harmless" in words[at].sorts
            at += 1
            continue
        condition = _bracketed(words, at) or engines_at(words, at)
        if condition is None or condition.lone or (found and apart):
            return None
        at, apart = _behind_only(words, condition.after), False
        found.append(Said(condition, text[words[condition.first].start : words[at - 1].end]))
    return found


def _repeats(cell: str, title: Applies, known: Sequence[str]) -> bool:
    """Whether a remark only names the variant that the title is for: "Electric start (E)"."""
    words = engine_words().words(cell, known)
    if len(words) < 4 or (words[-3].text, words[-1].text) != ("(", ")"):
        return False
    plain = all(not word.sorts and word.text.isalpha() for word in words[:-3])
    return plain and variant_key(words[-2].text) in map(variant_key, title.variants)


def _speaks_of_engines(words: Sequence[Word]) -> bool:
    """Whether the words have to do with which engines something is for."""
    counted = any(any(c.isdigit() for c in word.text) for word in words)
    signs = [sign for sign in _SIGNS if counted or sign not in _COUNTED]
    return any(word.sorts.intersection(signs) for word in words)


def _behind_only(words: Sequence[Word], at: int) -> int:
    """Behind "engines", "only" and such, which add nothing."""
    while (
        at < len(words) and words[at].sorts & {"only", "filler", "inclusive"} and "at" not in words[at].sorts
    ):
        at += 1
    return at


def _bracketed(words: Sequence[Word], at: int) -> Engines | None:
    """ "(H)": a known variant alone in brackets."""
    alone = 0 < at < len(words) - 1 and words[at - 1].text == "(" and words[at + 1].text == ")"
    if alone and "known" in words[at].sorts:
        return Engines((), (words[at].text,), False, at, at + 1)
    return None


def _of_title(title: str, known: Sequence[str]) -> list[Said] | None:
    """The conditions of a figure's title: its first piece or its last ones; the rest is its name."""
    if not _speaks_of_engines(engine_words().words(title, known)):
        return []
    found: list[Said] = []
    pieces = [piece.strip() for piece in _PIECES.split(title) if piece.strip()]
    for number, piece in enumerate(pieces):
        words = engine_words().words(piece, known)
        if not _speaks_of_engines(words):
            other = bool(found) and number > 1 and not _sheet(words)
            if other or any(word.sorts & {"negation", "only"} for word in words):
                return None  # "Gearcase (model H), cover": the cover too?
            continue
        condition = _at_end(words) or _alone_in_brackets(title, piece, words)
        if condition is None or condition.lone:
            return None
        found.append(Said(condition, piece[words[condition.first].start :]))
    return found


def _sheet(words: Sequence[Word]) -> bool:
    """Whether the words only tell the sheets of a figure apart: "1 of 2", "continued"."""
    return all(word.number is not None or "sheet" in word.sorts for word in words)


def _at_end(words: Sequence[Word]) -> Engines | None:
    """The condition that the words end with, when nothing before it has to do with engines."""
    for first in range(len(words)):
        condition = engines_at(words, first)
        if condition is not None and _behind_only(words, condition.after) == len(words):
            return condition
        if words[first].sorts & {"negation", "ends", "begins", "only", *_SIGNS}:
            return None
    return None


def _alone_in_brackets(title: str, piece: str, words: Sequence[Word]) -> Engines | None:
    if piece in _BRACKETED.findall(title) and len(words) == 1 and "known" in words[0].sorts:
        return Engines((), (words[0].text,), False, 0, 1)
    return None
