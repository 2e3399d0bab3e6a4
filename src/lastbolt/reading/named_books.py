"""Places that a sentence names without a word such as "see": papers with a number, the chapter before."""

import re
from functools import lru_cache

from lastbolt.reading.lexicon import Hit, Lexicon, Scan
from lastbolt.reading.numbers import any_of
from lastbolt.reading.title_pointers import Named

_LETTERED = r"[A-Z]{1,4}[-–/ ]?\d[\w/–-]*(?:\.\d+)*"
"""The number of a paper that begins with letters: "SL-14", "F3", "W 31"."""


@lru_cache(maxsize=4)
def _papers(language: Lexicon) -> re.Pattern[str]:
    """A paper and its number; of words that are more often something else only a number with letters."""
    sure, other = (any_of(language.words("papers", key)) for key in ("sure", "other"))
    no = any_of(language.words("papers", "number"))
    return re.compile(
        rf"(?<!\w)(?:(?i:{sure})[\s(]{{1,2}}(?:(?i:{no})\s?)?(?:{_LETTERED}|\d[\w/–-]*)"
        rf"|(?i:{other})[\s(]{{1,2}}(?:(?i:{no})\s?\d[\w/–-]*|(?:(?i:{no})\s?)?{_LETTERED}))(?!\w)"
    )


@lru_cache(maxsize=4)
def _neighbour(language: Lexicon) -> re.Pattern[str]:
    """ "as in the preceding chapter": a part of the text that is told by where it stands."""
    lead, beside, parts = (any_of(language.words("papers", key)) for key in ("lead", "beside", "parts"))
    return re.compile(rf"(?<!\w)(?:{lead})\s(?:the\s)?(?:{beside})\s(?:{parts})(?!\w)", re.IGNORECASE)


def places_named(scan: Scan, language: Lexicon) -> list[Named]:
    """Papers of their own, and neighbouring parts of the text, that no cue leads to."""
    if not may_name(scan):
        return []
    found = [
        Named(match.start(), match.end(), "book", (match[0],), "see")
        for match in _papers(language).finditer(scan.text)
    ]
    for hit in scan.of("papers", "alone"):
        cue = _carried_out(scan, hit.start)
        if cue is not None and not any(one.start <= hit.start < one.end for one in found):
            words = scan.text[cue.end : hit.end].strip()
            found.append(Named(cue.start, hit.end, "book", (words,), "perform"))
    found += [
        Named(match.start(), match.end(), "elsewhere", (), "see")
        for match in _neighbour(language).finditer(scan.text)
    ]
    return found


def may_name(scan: Scan) -> bool:
    """Whether a word for a paper or a neighbouring part stands there."""
    return scan.has("papers", "sure", "other", "alone", "beside")


def _carried_out(scan: Scan, start: int) -> Hit | None:
    """The word such as "carry out" that leads up to a paper in the same clause."""
    return next(
        (
            hit
            for hit in scan.of("pointing", "perform")
            if hit.end <= start and not re.search(r"[.;:]\s", scan.text[hit.end : start])
        ),
        None,
    )
