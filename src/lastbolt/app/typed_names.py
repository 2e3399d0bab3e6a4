"""Whether typed words are one person's name: a witness that nobody is would be one more pair of eyes.

"by hand", "by torch", "by Ann again", "by Ann: 9 still in" name nobody new.
"""

import re
from collections.abc import Iterable

from lastbolt.app.typed_words import NO_NAMES, NUMBERED, TOOLS, UNNAMED, person_key

SEVERAL = re.compile(r"[,;/&+?]|\band\b", re.I)
_LETTERS = re.compile(r"[^\W\d_]+(?:[.'\u2019-]+[^\W\d_]*)*")
MOST_WORDS = 4


def name_in(words: str) -> str:
    """The words as one person's name; empty if they are none."""
    name = " ".join(words.split()).strip(" :.")
    if person_key(name) in UNNAMED or SEVERAL.search(name):
        return ""
    *said, last = name.split()
    numbered = last.isdecimal() and bool(said) and said[-1].casefold() in NUMBERED
    letters = said if numbered else [*said, last]
    return name if len(letters) <= MOST_WORDS and all(_of_a_name(word) for word in letters) else ""


def _of_a_name(word: str) -> bool:
    low = word.casefold().strip(".'\u2019")
    if not _LETTERS.fullmatch(word) or low in NO_NAMES:
        return False
    return low not in TOOLS or word.istitle()


def new_name_in(words: str) -> str:
    """The name of somebody who has not spoken yet, at the end of a line: written as names are.

    >>> new_name_in("Mira"), new_name_in("touch"), new_name_in("NASTASSJA")
    ('Mira', '', '')
    """
    name = name_in(words)
    return name if name and name[0].isupper() and not (name.isupper() and len(name) > 2) else ""


def nearly_said(name: str, people: Iterable[str]) -> str:
    """The key of somebody who spoke before and whose name begins this one, or the other way; else empty.

    >>> nearly_said("Ann Miller", ["ann", "ben"]), nearly_said("Anna", ["ann"]), nearly_said("A.", ["ann"])
    ('ann', '', 'ann')
    """
    said = person_key(name).split()
    people = tuple(people)
    if person_key(name) in people:
        return ""
    for known in people:
        shorter, longer = sorted((said, known.split()), key=lambda words: (len(words), len(words[0])))
        if shorter[0] in NUMBERED:
            continue
        initial = len(shorter) == 1 and len(shorter[0]) == 1 and name.rstrip().endswith(".")
        if longer[0].startswith(shorter[0]) if initial else longer[: len(shorter)] == shorter:
            return known
    return ""
