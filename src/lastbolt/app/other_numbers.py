"""Numbers in a sentence about fasteners that no count of the joint explains: "two more from below".

A sentence may say how many there are without a word for them. So every number is looked at that is no size,
no label, no measure and no number of turns or people; each must be one of the counts, or all together.
"""

import re
from collections.abc import Iterable, Iterator
from functools import lru_cache

from lastbolt.app.holder_words import listed
from lastbolt.reading.lexicon import lexicon
from lastbolt.words.evidence import Line
from lastbolt.words.quantity import Quantity

_SIZE = re.compile(
    r"\b(?:m\s?\d+(?:[.,]\d+)?(?:\s?[x×]\s?\d+(?:[.,]\d+)?){0,2}|\d+/\d+(?:-\d+)?|\d+(?:[.,]\d+)?\s?[x×]\s?\d+)"
)
_IN_BRACKETS = re.compile(r"[(\[][^)\]]{0,30}[)\]]")
_DECIMAL = re.compile(r"\d+[.,:]\d+\S*|[a-z]+[-.]?\d\S*|\d+[a-z]+\b|#\s?\d+")
_TOKEN = re.compile(r"[a-zµ°%]+(?:-[a-z]+)*|\d+|[;,.:–-]")
_ORDINAL_FROM = 2
_SIGNS_OF_A_RUN = (",", "-", "–")


def unexplained(words: str, counts: Iterable[int]) -> bool:
    """Whether a sentence has a number that is none of these counts, nor part of a sum that is one.

    >>> unexplained("Remove the 2 bolts M8x70 (4); two more are reached through the hole.", [6, 2])
    True
    >>> unexplained("Remove the 6 screws M6x45 (3), three pairs in all.", [6, 2])
    True
    >>> unexplained("Remove the screws M6x45: 4 in the upper row, 2 in the lower row.", [6, 2])
    False
    >>> unexplained("Slacken the screws by two turns, steps 3 to 5, then wait 10 minutes.", [6])
    False
    """
    if _each(words) or _more(words):
        return True
    known = {*counts, 1}
    found = [number for number in _numbers(words) if number not in known]
    return bool(found) and sum(found) not in known and sum(_numbers(words)) not in known


def _numbers(words: str) -> Iterator[int]:
    """The numbers that may count fasteners."""
    text = _DECIMAL.sub(" # ", _SIZE.sub(" # ", _IN_BRACKETS.sub(" # ", words.casefold())))
    tokens = _TOKEN.findall(text)
    label, run = False, False
    for at, token in enumerate(tokens):
        value = _value(token)
        if value is None:
            label = token in listed("labels")
            run = run and (token in _SIGNS_OF_A_RUN or token in listed("joins_labels"))
            continue
        run = run or label
        if not run and not _measures(tokens[at + 1 : at + 4]) and not _is_mark(tokens, at):
            yield value


def _value(token: str) -> int | None:
    if token.isdecimal():
        return int(token)
    return _words().get(token)


@lru_cache(maxsize=1)
def _words() -> dict[str, int]:
    """The numbers in words from two on: "one" is said of anything."""
    ordinals = {word: place for place, word in enumerate(listed("ordinals"), 3)}
    return ordinals | {
        word: value for word, value in lexicon().numbers.items() if word.isalpha() and value >= _ORDINAL_FROM
    }


def _measures(after: list[str]) -> bool:
    """Whether what follows is a unit, or something that is counted and is no fastener."""
    nouns = {*listed("not_pieces"), *listed("units_counted")}
    first = next((one for one in after if one not in listed("before_a_measure")), "")
    return first in nouns or first.removesuffix("s") in nouns


def _is_mark(tokens: list[str], at: int) -> bool:
    """Whether it is the mark of a step: "2." at the head."""
    return at == 0 and tokens[1:2] in (["."], [":"])


def _more(words: str) -> bool:
    """Whether a number is said of further ones: "two more", "three others"."""
    tokens = _TOKEN.findall(_SIZE.sub(" # ", words.casefold()))
    return any(
        _value(token) is not None and set(tokens[at + 1 : at + 2]) & set(listed("further_ones"))
        for at, token in enumerate(tokens)
    )


def _each(words: str) -> bool:
    """Whether a number is said of each of several: "two at each corner"."""
    tokens = _TOKEN.findall(_SIZE.sub(" # ", words.casefold()))
    for at, token in enumerate(tokens):
        if _value(token) is not None and set(listed("of_each")) & set(tokens[at + 1 : at + 5]):
            return True
    return False


def agrees(said: Quantity, counts: list[int]) -> bool:
    """Whether a count is one of these, or none is said; "8 + 1" is no single one."""
    if said.low is None:
        return not number_in(said.words)
    return said.per in ("each", "side") or said.low in counts


def counts_of(line: Line) -> list[int]:
    """The counts that stand for a line: printed ones, and its known places."""
    printed = [one.quantity.low for one in line.printed if one.quantity.low is not None]
    return [*printed, *([len(line.places)] if line.places else [])]


def number_in(words: str) -> bool:
    """Whether there is a number, in figures or in words."""
    told = words.casefold().replace("-", " ").split()
    return any(char.isdigit() for char in words) or any(
        word.strip(".,;:") in lexicon().numbers for word in told
    )
