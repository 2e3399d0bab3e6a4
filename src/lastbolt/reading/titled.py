"""Which of the sections on a page a sentence names by its whole title: "(see "Fan - removal", page 9)"."""

import re
from collections.abc import Container, Sequence

from lastbolt.reading.targets import Target

_WORDS = re.compile(r"[^\W_]+")


def titled_in(hits: Sequence[Target], words: str, above: Container[str]) -> list[Target]:
    """Those whose whole title, with the work it names, stands in the words; of several the longest.

    Args:
        hits: the sections on the page
        words: the sentence, or the part of it that is said of this page
        above: the ids of sections that have others below them: their titles name parts, not work
    """
    said = _plain(words)
    found = [
        hit
        for hit in hits
        if hit.deed != "other" and hit.parts and hit.id not in above and _plain(hit.title) in said
    ]
    longest = max((len(hit.title) for hit in found), default=0)
    return [hit for hit in found if len(hit.title) == longest]


def _plain(words: str) -> str:
    """Words in small letters, letters and figures only."""
    return " ".join(_WORDS.findall(words.lower()))
