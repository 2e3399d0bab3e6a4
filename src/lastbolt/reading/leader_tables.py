"""Torques listed in lines with leaders, "Cylinder head nuts ..... 35 lb. ft.": as tables of two columns."""

import re
from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple

from lastbolt.reading.drafts import SectionDraft
from lastbolt.reading.lexicon import Lexicon
from lastbolt.reading.piece import At, Piece, joined
from lastbolt.reading.table_words import Heading
from lastbolt.reading.tables import Cell, Row, Table
from lastbolt.reading.torque_columns import is_bare, unit_in
from lastbolt.reading.torques import torques_in

_LEADER = re.compile(r"\s*(?:[.·…_]\s?){3,}\s*|\s[.·…]{1,2}\s(?=\d)")
_COLON = re.compile(r"\s?:\s+(?=\S{0,6}\d)|(?!)")
"""What stands between name and value under a title that tells of torques: "Drain plug: 9 Nm"."""
_FEWEST = 3
_LONGEST = 12
"""A name has at most so many words."""
_SENTENCE = re.compile(r"[a-z]\.\s+[A-Z]")


class _Entry(NamedTuple):
    name: str
    value: str
    lines: tuple[At, ...]


class _Titled(NamedTuple):
    """Whether the section's title tells of torques, and the unit that it gives them."""

    torques: bool
    unit: str | None


def torque_lists(sections: Iterable[SectionDraft], language: Lexicon) -> list[Table]:
    """A table for each page of each list of torques that stands in running lines."""
    found: list[Table] = []
    for section in sections:
        titled = any(word in section.title.lower() for word in language.words("titles", "torque_table"))
        for item in section.items:
            if item.kind == "text":
                unit = unit_in(section.title) if titled else None
                found += _tables(item.pieces[0], language, _Titled(titled, unit))
    return found


def _tables(piece: Piece, language: Lexicon, title: "_Titled") -> Iterator[Table]:
    led = sum(_parts(at.line.text, title) is not None for at in piece.lines)
    if led < (1 if title.torques else _FEWEST):
        return
    entries = list(_entries(piece.lines, language, title))
    if len(entries) < _FEWEST:
        return
    for page in dict.fromkeys(entry.lines[0].pdf_page for entry in entries):
        yield _table(page, [entry for entry in entries if entry.lines[0].pdf_page == page])


def _parts(text: str, title: "_Titled") -> "re.Match[str] | None":
    """Where a name ends and its value begins."""
    return _LEADER.search(text) or (_COLON.search(text) if title.torques else None)


def _entries(lines: Sequence[At], language: Lexicon, title: "_Titled") -> Iterator[_Entry]:
    """Names with their torques; a name, or a torque in brackets, may run over several lines."""
    text, taken = "", []
    for index, at in enumerate(lines):
        text = joined(text, at.line.text.replace("\t", " "))
        taken.append(at)
        following = lines[index + 1].line.text.lstrip() if index + 1 < len(lines) else ""
        goes_on = following.startswith("(") or text.count("(") > text.count(")")
        entry = None if goes_on else _entry(text, taken, language, title)
        if entry is not None:
            yield entry
        if entry is not None or (
            not goes_on and text.rstrip().endswith((".", ":")) and not _parts(text, title)
        ):
            text, taken = "", []


def _entry(text: str, lines: Sequence[At], language: Lexicon, title: "_Titled") -> _Entry | None:
    """A name and a torque at the end of the text, or None while there is none."""
    leader = _parts(text, title)
    name, value = (text[: leader.start()], text[leader.end() :]) if leader is not None else ("", "")
    if leader is None:
        torques = torques_in(text, language)
        if not torques or text[torques[-1].end :].strip(" .()"):
            return None
        name, value = text[: torques[0].start], text[torques[0].start :]
    elif title.unit is not None and is_bare(value.strip()):
        value = f"{value.strip()} {title.unit}"
    elif not torques_in(value, language):
        return None
    name = name.strip(" .:·…_-")
    words = name.split()
    if not words or len(words) > _LONGEST or _SENTENCE.search(name):
        return None
    return _Entry(name, value.strip(), tuple(lines))


def _table(page: int, entries: Sequence[_Entry]) -> Table:
    rows = []
    for entry in entries:
        lines = [at.line for at in entry.lines if at.pdf_page == page]
        box = (
            min(line.left for line in lines), min(line.top for line in lines),
            max(line.right for line in lines), max(line.bottom for line in lines),
        )  # fmt: skip
        rows.append(Row((Cell(entry.name, box[0], False), Cell(entry.value, box[2], False)), box))
    box = (
        min(row.box[0] for row in rows), min(row.box[1] for row in rows),
        max(row.box[2] for row in rows), max(row.box[3] for row in rows),
    )  # fmt: skip
    headings = (Heading("joint", ""), Heading("torque", ""))
    return Table(page, box, False, ("", ""), headings, tuple(rows))
