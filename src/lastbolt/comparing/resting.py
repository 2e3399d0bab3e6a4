"""The steps that rest on a row of a table: "tighten as in Table 4-1" changes when that table does."""

from bisect import bisect_right
from collections import defaultdict
from collections.abc import Iterable, Iterator

from lastbolt.comparing.spoken import captions
from lastbolt.words.citation import Citation, PdfPlace, TextPlace, XmlPlace
from lastbolt.words.machine import Machine, Procedure, Section, Step

StepOf = tuple[Procedure, Step]
Spot = tuple[int, float]


class Resting:
    """Which steps of one edition speak of a row, or refer to the section or table that it stands in."""

    def __init__(self, machine: Machine) -> None:
        self._steps = [(procedure, step) for procedure in machine.procedures for step in procedure.steps]
        self._by_row: dict[str, list[int]] = defaultdict(list)
        self._by_target: dict[str, list[int]] = defaultdict(list)
        self._by_caption: dict[str, list[int]] = defaultdict(list)
        for place, (_, step) in enumerate(self._steps):
            for row in dict.fromkeys(row for mention in step.mentions for row in mention.rows):
                self._by_row[row].append(place)
            for target in dict.fromkeys(to for reference in step.references for to in reference.to):
                self._by_target[target].append(place)
            for name in captions(step.words):
                self._by_caption[name].append(place)
        self._sections = _Places(machine.sections)
        self._names: dict[str, frozenset[str]] = {}

    def on_row(self, row: str) -> tuple[StepOf, ...]:
        """The steps that speak of a row of the parts list."""
        return self._in_order(self._by_row.get(row, ()))

    def on_table(self, citations: Iterable[Citation]) -> tuple[StepOf, ...]:
        """The steps that refer to the section, or by its number to the table, of the row."""
        cited = next(iter(citations), None)
        section = self._sections.at(cited) if cited else None
        return self.on_section(section) if section else ()

    def on_section(self, section: Section) -> tuple[StepOf, ...]:
        """The steps that refer to a section, or by its number to a table in it."""
        names = self._names.get(section.id)
        if names is None:
            names = self._names[section.id] = captions(section.text)
        found = {*self._by_target.get(section.id, ())}
        for name in names:
            found.update(self._by_caption.get(name, ()))
        return self._in_order(found)

    def _in_order(self, places: Iterable[int]) -> tuple[StepOf, ...]:
        return tuple(self._steps[place] for place in sorted(places))


class _Places:
    """Sections by where they begin, each source and each file of modules on its own."""

    def __init__(self, sections: Iterable[Section]) -> None:
        begun: dict[tuple[str, str], list[tuple[Spot, int, Section]]] = defaultdict(list)
        for number, (key, spot, section) in enumerate(_begins(sections)):
            begun[key].append((spot, number, section))
        self._begun = {key: sorted(some, key=lambda one: one[:2]) for key, some in begun.items()}
        self._spots = {key: [one[0] for one in some] for key, some in self._begun.items()}

    def at(self, cited: Citation) -> Section | None:
        """The last section that begins at or before the place; for a module, the one of its file."""
        spot, key = _spot(cited), _key(cited)
        place = bisect_right(self._spots.get(key, ()), spot) if spot is not None else 0
        return self._begun[key][place - 1][2] if place else None


def _begins(sections: Iterable[Section]) -> Iterator[tuple[tuple[str, str], Spot, Section]]:
    for section in sections:
        for citation in section.citations[:1]:
            if (spot := _spot(citation)) is not None:
                yield _key(citation), spot, section


def _key(citation: Citation) -> tuple[str, str]:
    return citation.source, citation.place.file if isinstance(citation.place, XmlPlace) else ""


def _spot(citation: Citation) -> Spot | None:
    match citation.place:
        case TextPlace():
            return citation.place.line, 0.0
        case PdfPlace(pdf_page, _, box):
            return pdf_page, box[1] if box else 0.0
        case XmlPlace(_, _, line):
            return line, 0.0
    return None
