"""Whether a link answers what a reference could not: only then does it take that reference's place.

A sentence may point to two places and be linked to one. What the link does not answer stays open, and what
was said of it stays said.
"""

import re
from collections.abc import Iterable

from lastbolt.words.citation import TextPlace
from lastbolt.words.machine import Reference
from lastbolt.words.problem import Problem
from lastbolt.words.written import Link

MOST_LINES = 12
"""So many lines below its beginning a paragraph may say a link."""
_FIGURE = re.compile(r"\d")


def said_in(words: str, text: str) -> bool:
    """Whether words stand in a text as whole words."""
    return bool(words) and re.search(rf"(?<!\w){re.escape(words)}(?!\w)", text, re.IGNORECASE) is not None


class Settling:
    """The problems of a reading; `answered` gathers those that links have answered."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        self._problems = tuple(problems)
        self.answered: list[Problem] = []

    def by(self, link: Link, to: str, reference: Reference) -> bool:
        """Whether the link, which leads to `to`, answers all that the reference left open."""
        match reference.status:
            case "dangling":
                return self._answers("LB-R01", link, f" points to {link.words}, which ")
            case "ambiguous" if to in reference.to and said_in(link.words, reference.words):
                self._answers("LB-R02", link, link.words)
                return True
            case "in words" if said_in(link.words, reference.words):
                rest = re.sub(re.escape(link.words), "", reference.words, flags=re.IGNORECASE)
                if _FIGURE.search(rest):
                    return False
                self._answers("LB-R06", link, reference.words)
                return True
        return False

    def _answers(self, code: str, link: Link, words: str) -> bool:
        """Whether such a problem stands at the link's line and says these words; it is answered then."""
        for problem in self._problems:
            place = problem.citations[0].place if problem.citations else None
            near = isinstance(place, TextPlace) and place.line <= link.line <= place.line + MOST_LINES
            if problem.code == code and near and words.casefold() in problem.what.casefold():
                self.answered.append(problem)
                return True
        return False
