"""Citations as people see them: where in words, and which piece of which page to show as a picture."""

from collections.abc import Iterable

from lastbolt.app.pages import CautionShown, Cite, Crop
from lastbolt.words.citation import Box, Citation, PdfPlace
from lastbolt.words.machine import Caution, Machine
from lastbolt.words.where import where

LEAST_WIDE, LEAST_HIGH = 0.3, 0.018
EDGE_X, EDGE_Y = 0.012, 0.0035
MOST_CITES = 3


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

    def cites(self, citations: Iterable[Citation], most: int = MOST_CITES) -> tuple[Cite, ...]:
        """The first `most` citations, one for each page."""
        found: dict[str, Cite] = {}
        for citation in citations:
            cite = self.cite(citation)
            found.setdefault(cite.where, cite)
        return tuple(found.values())[:most]

    def cite(self, citation: Citation) -> Cite:
        """One citation in words, with the key of its picture."""
        return Cite(self.where(citation), citation.words, self._crop(citation))

    def where(self, citation: Citation) -> str:
        """Where it stands, the source by its title and people by name."""
        return where(citation, self.titles.get(citation.source, ""), self.people)

    def first_where(self, citations: tuple[Citation, ...]) -> str:
        """The first citation in words, or nothing."""
        return self.where(citations[0]) if citations else ""

    def picture(self, citation: Citation) -> str | None:
        """The key of the crop of this citation."""
        return self._crop(citation)

    def _crop(self, citation: Citation) -> str | None:
        place = citation.place
        if not isinstance(place, PdfPlace) or place.box is None:
            return None
        box = roomy(place.box)
        source = self.ids.get(citation.source, citation.source)
        key = f"{source}:{place.pdf_page}:" + ",".join(f"{side:.3f}" for side in box)
        self._crops.setdefault(key, Crop(key, source, place.pdf_page, box))
        return key


def roomy(box: Box) -> Box:
    """The box with a little of the page around it, and never too small to recognise."""
    left, top, right, bottom = box
    spread_x = max(EDGE_X, (LEAST_WIDE - (right - left)) / 2)
    spread_y = max(EDGE_Y, (LEAST_HIGH - (bottom - top)) / 2)
    left, right = max(0.0, left - spread_x), min(1.0, right + spread_x)
    return left, max(0.0, top - spread_y), right, min(1.0, bottom + spread_y)


def cautions_shown(cautions: Iterable[Caution]) -> tuple[CautionShown, ...]:
    """The warnings, their own signal word not said twice."""
    return tuple(CautionShown(c.signal, _without_signal(c.signal, c.words)) for c in cautions)


def _without_signal(signal: str, words: str) -> str:
    rest = words[len(signal) :] if words.lower().startswith(signal) else words
    return rest.lstrip(" :!.-–—")
