"""Parts rows that name no fastener in full but show signs of one: a thread, an abbreviation, a misprint."""

import re
from collections.abc import Iterator
from functools import lru_cache
from itertools import groupby, pairwise

from lastbolt.reading.lexicon import Lexicon, Scan
from lastbolt.reading.sizes import Size, sizes_in

_FIGURES_FOR_LETTERS = str.maketrans("01583|!", "oisbeii")
_JOINED = re.compile(r"(?:\b(?:and|plus|with|incl\.?|including|also)|[&+])\s*(?:\d+\s*(?:x|off|pcs)?\s*)?$")
_LONG_ENOUGH = 5
"""A fastener word of so many letters or more counts as misprinted when one letter differs."""


def sorts_signed(
    scan: Scan, name: str, sizes: list[Size], language: Lexicon
) -> tuple[str | None, ...] | None:
    """The sort of fastener that signs in a parts row's name speak of (None: unknown); no value without one.

    A thread size is a sign, and so is an abbreviation or a word that is nearly a fastener's. The name of a
    known other part ("washer", "cover") takes the sign back when it is what the name is about.
    """
    signs = scan.of("fastener_signs")
    sorts = {None if sign.key == "unsorted" else sign.key for sign in signs}
    sorts |= {sort for token in scan.tokens for sort in _misprinted(token.low, language)}
    sorts |= {sort for word in _torn(scan) for sort in _torn_sort(word, language)}
    others = scan.of("not_fasteners")
    nouns = [
        noun
        for noun in scan.of("fasteners")
        if not any(other.first < noun.last and noun.first < other.last for other in others)
    ]
    threaded = any(not size.plain for size in sizes)
    if threaded and scan.of("heads") and any(size.length_mm is not None for size in sizes):
        return tuple(sorts - {None}) if len(sorts - {None}) == 1 else (None,)
    sorts |= {sort for token in scan.tokens if (sort := _ends_in(token.low, language))}
    if not sorts and not nouns and not threaded:
        return None
    if _about_a_part(scan, name, sizes, language):
        return None
    return tuple(sorts) if len(sorts) == 1 else (None,)


def _about_a_part(scan: Scan, name: str, sizes: list[Size], language: Lexicon) -> bool:
    """Whether the last word of the name's first phrase, or its first, is of a part that holds nothing."""
    begin = sizes[0].end if sizes and sizes[0].start <= 1 else 0
    stops = [at for mark in ",;(/" if (at := name.find(mark, begin)) > 0]
    stops += [size.start for size in sizes if size.start > begin]
    stops += [t.start for t in scan.tokens[1:] if t.start > begin and language.among(t.low, "stop")]
    end = min(stops, default=len(name))
    words = [t for t in scan.tokens if begin <= t.start < end and t.low.isalpha()]
    told = (*scan.of("fastener_signs"), *scan.of("fasteners"), *scan.of("heads"))
    signed = {scan.tokens[index].start for hit in told for index in range(hit.first, hit.last)}
    while len(words) > 1 and _describes(words[-1].low, language) and words[-1].start not in signed:
        words.pop()
    if not words:
        return False
    ends = words[-1:] if any(word.start in signed for word in words) else (words[0], words[-1])
    return any(word.start not in signed and _is_part(word.low, language) for word in ends)


def _is_part(low: str, language: Lexicon) -> bool:
    endings = ("", *language.words("endings", "plural"))
    return any(language.among(low.removesuffix(ending), "other_parts") for ending in endings)


def _describes(low: str, language: Lexicon) -> bool:
    if language.among(low, "other_parts", "wholes"):
        return True
    return language.among(low, "adjectives") and not _is_part(low, language)


def is_unknown(name: str, language: Lexicon) -> bool:
    """Whether a parts row's name, of no fastener, is of no part that is known either: it may be anything."""
    scan = language.scan(name)
    sizes = sizes_in(name)
    if fastener_nouns_beside(scan):
        return True
    if any(not size.plain for size in sizes) and not _carries_a_thread(scan, language):
        return True
    if any(language.among(token.low, "other_parts", "assemblies") for token in scan.tokens):
        return False
    if scan.of("not_fasteners"):
        return False
    return not _about_a_part(scan, name, sizes, language)


def fastener_nouns_beside(scan: Scan) -> list[str]:
    """Fastener words of a name that is of another part: "washer and bolt", "screw on cover"."""
    others = scan.of("not_fasteners")
    return [
        noun.form
        for noun in scan.of("fasteners")
        if not any(other.first < noun.last and noun.first < other.last for other in others)
        and _JOINED.search(scan.text[: noun.start].lower())
    ]


def _carries_a_thread(scan: Scan, language: Lexicon) -> bool:
    endings = ("", *language.words("endings", "plural"))
    return any(
        language.among(token.low.removesuffix(ending), "other_parts", "threaded")
        for token in scan.tokens
        for ending in endings
    )


@lru_cache(maxsize=20_000)
def _ends_in(low: str, language: Lexicon) -> str | None:
    """The sort of a compound that ends in a fastener word: "lockbolt", "eyebolts"."""
    if _is_part(low, language):
        return None
    for sort, nouns in language.data["fasteners"].items():
        for noun in nouns:
            long = len(noun) >= _LONG_ENOUGH - 1 and " " not in noun
            if long and low.removesuffix("s").endswith(noun) and low.removesuffix("s") != noun:
                return str(sort)
    return None


def _torn_sort(word: str, language: Lexicon) -> tuple[str, ...]:
    named = (sort for sort, nouns in language.data["fasteners"].items() if word in nouns)
    return tuple(named) or _misprinted(word, language)


@lru_cache(maxsize=20_000)
def _misprinted(low: str, language: Lexicon) -> tuple[str, ...]:
    """The sort of a fastener word that is misread or mistyped: "B0LT", "SCREVV", "NUTT", "SCFEW", "BLOT"."""
    if _is_part(low, language) or low.isdigit():
        return ()
    folded = _folded(low)
    for sort, nouns in language.data["fasteners"].items():
        for noun in nouns:
            if low == noun or " " in noun:
                continue
            if folded in (_folded(noun), _folded(f"{noun}s")):
                return (sort,) if low != f"{noun}s" else ()
            if _slip_away(low, noun):
                return (sort,)
    return ()


@lru_cache(maxsize=20_000)
def _folded(word: str) -> str:
    """A word without what scanner or finger mixes up: figures and letters, "vv" and "w", doubled letters."""
    alike = word.translate(_FIGURES_FOR_LETTERS).replace("vv", "w").replace("rn", "m").replace("i", "l")
    return "".join(letter for letter, _ in groupby(alike))


def _slip_away(low: str, noun: str) -> bool:
    """Whether one slip parts a word from a noun: letters changed over, or one wrong, missing or too many."""
    if not low.isalpha() or low[0] != noun[0] or abs(len(low) - len(noun)) > 1:
        return False
    at = next((n for n, (a, b) in enumerate(zip(low, noun, strict=False)) if a != b), len(low))
    if low[at : at + 2] == noun[at : at + 2][::-1] and low[at + 2 :] == noun[at + 2 :]:
        return True
    ends = {(low[at + 1 :], noun[at + 1 :]), (low[at + 1 :], noun[at:]), (low[at:], noun[at + 1 :])}
    return len(noun) >= _LONG_ENOUGH and any(one == other for one, other in ends)


def _torn(scan: Scan) -> Iterator[str]:
    """Neighbouring words put together: "S CREW", "BO LT"."""
    for one, other in pairwise(scan.tokens):
        if one.low.isalpha() and other.low.isalpha() and other.start - one.end == 1:
            yield one.low + other.low
