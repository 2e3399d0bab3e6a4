"""The steps that rest on a row of a table: "tighten as in Table 4-1" changes when that table does."""

import re
from collections.abc import Iterable, Sequence

from lastbolt.words.citation import Citation, PdfPlace, XmlPlace
from lastbolt.words.machine import Machine, Procedure, Section, Step

CAPTION = re.compile(r"\btable\s+([A-Z]?\d+(?:\s?[-–.]\s?\d+)*[a-z]?)\b", re.IGNORECASE)
"""How English manuals call a table by its number; references that were resolved need no such words."""


class Resting:
    """Which steps of one edition refer to the table that a cited row stands in."""

    def __init__(self, machine: Machine) -> None:
        self._sections = machine.sections
        self._steps = [(procedure, step) for procedure in machine.procedures for step in procedure.steps]

    def on_row(self, row: str) -> tuple[tuple[Procedure, Step], ...]:
        """The steps that speak of a row of the parts list."""
        return tuple(
            (procedure, step)
            for procedure, step in self._steps
            if any(row in mention.rows for mention in step.mentions)
        )

    def on_table(self, citations: Iterable[Citation]) -> tuple[tuple[Procedure, Step], ...]:
        """The steps that refer to the section, or by its number to the table, of the row."""
        cited = next(iter(citations), None)
        section = _section_of(cited, self._sections) if cited else None
        if section is None:
            return ()
        names = {_plain(match[1]) for match in CAPTION.finditer(section.text)}
        return tuple(
            (procedure, step)
            for procedure, step in self._steps
            if any(section.id in reference.to for reference in step.references)
            or any(_plain(match[1]) in names for match in CAPTION.finditer(step.words))
        )


def _plain(number: str) -> str:
    return re.sub(r"\s", "", number).replace("–", "-").casefold()


def _section_of(cited: Citation, sections: Sequence[Section]) -> Section | None:
    """The last section that begins at or before the place; for a module, the one of its file."""
    found: tuple[tuple[int, float], Section] | None = None
    at = _spot(cited)
    for section in sections:
        for citation in section.citations[:1]:
            begins = _spot(citation)
            if citation.source != cited.source or begins is None or at is None:
                continue
            if isinstance(cited.place, XmlPlace) and _file(citation) != _file(cited):
                continue
            if begins <= at and (found is None or begins >= found[0]):
                found = (begins, section)
    return found[1] if found else None


def _spot(citation: Citation) -> tuple[int, float] | None:
    match citation.place:
        case PdfPlace(pdf_page, _, box):
            return pdf_page, box[1] if box else 0.0
        case XmlPlace(_, _, line):
            return line, 0.0
    return None


def _file(citation: Citation) -> str:
    return citation.place.file if isinstance(citation.place, XmlPlace) else ""
