"""Citations as people see them: where in words, and which piece of which page to show as a picture.

A picture is shown of a figure, of a row of a table, and of a sentence that is not printed beside it; each
piece of a page once, at its first mention.
"""

import re
from collections.abc import Iterable

from lastbolt.app.pages import CautionShown, Cite, Crop
from lastbolt.words.citation import Citation, PdfPlace
from lastbolt.words.machine import Caution, Machine
from lastbolt.words.where import where

MOST_CITES = 3
CELLS = " | "
"""What stands between the cells of a row in the words of its citation."""
LEAST_WORDS = 6
"""A heading is no picture."""
SAID_SHARE = 0.6
"""A sentence counts as printed beside when so many of its words are."""


class Shown:
    """Turns citations into `Cite` values and gathers the crops they need, each once."""

    def __init__(self, machine: Machine | None, people: dict[str, str] | None = None) -> None:
        sources = machine.sources if machine else ()
        self.titles = {source.id: source.title or source.file or source.id for source in sources}
        self.ids = {title: identity for identity, title in self.titles.items()}
        self.people = people or {}
        self._crops: dict[str, Crop] = {}

    def crops(self) -> tuple[Crop, ...]:
        """Every crop asked for so far, in the order of asking."""
        return tuple(self._crops.values())

    def cites(
        self,
        citations: Iterable[Citation],
        most: int = MOST_CITES,
        beside: str = "",
        *,
        pictures: bool = True,
    ) -> tuple[Cite, ...]:
        """The first `most` citations, one for each page; `beside`: the words printed with them.

        A page that `beside` already names is not named again; it stays only for its picture.
        """
        found: dict[str, Citation] = {}
        for citation in citations:
            found.setdefault(self.where(citation), citation)
        made = []
        for where_words, citation in list(found.items())[:most]:
            crop = self._crop(citation) if pictures and not_beside(citation.words, beside) else None
            if where_words not in beside:
                made.append(Cite(where_words, citation.words, crop))
            elif crop:
                title = self.titles.get(citation.source, citation.title) or citation.source
                made.append(Cite(f"Picture: {title}", citation.words, crop))
        return tuple(made)

    def where(self, citation: Citation) -> str:
        """Where it stands, the source by its title and people by name."""
        return where(citation, self.titles.get(citation.source, ""), self.people)

    def first_where(self, citations: tuple[Citation, ...]) -> str:
        """The first citation in words, or nothing."""
        return self.where(citations[0]) if citations else ""

    def picture(self, citation: Citation) -> str | None:
        """The key of the picture of this citation, if it was not shown before."""
        return self._crop(citation)

    def _crop(self, citation: Citation) -> str | None:
        """The key of a picture that was not asked for before."""
        place = citation.place
        if not isinstance(place, PdfPlace) or place.box is None:
            return None
        source = self.ids.get(citation.source, citation.source)
        key = f"{source}:{place.pdf_page}:" + ",".join(f"{side:.3f}" for side in place.box)
        if key in self._crops:
            return None
        self._crops[key] = Crop(key, source, place.pdf_page, place.box)
        return key


def not_beside(words: str, beside: str) -> bool:
    """Whether a picture of these words shows more than what is printed beside it.

    >>> not_beside("Pull the coupling half off.", "5.3.2 Pull the coupling half off.")
    False
    >>> not_beside("6 | A-606 | Screw | 9", "figure 6, item 6 lists 9")
    True
    """
    if CELLS in words or not words:
        return True
    tokens = _tokens(words)
    if len(tokens) < LEAST_WORDS:
        return False
    printed = set(_tokens(beside))
    return sum(token in printed for token in tokens) < SAID_SHARE * len(tokens)


def _tokens(words: str) -> list[str]:
    return re.findall(r"\w+", words.lower())


def cautions_shown(cautions: Iterable[Caution]) -> tuple[CautionShown, ...]:
    """The warnings, their own signal word not said twice."""
    return tuple(CautionShown(c.signal, without_signal(c.signal, c.words)) for c in cautions)


def without_signal(signal: str, words: str) -> str:
    """The words of a warning without its own signal word in front."""
    rest = words[len(signal) :] if words.lower().startswith(signal) else words
    return rest.lstrip(" :!.-–—")
