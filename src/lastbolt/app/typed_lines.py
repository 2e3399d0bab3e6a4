"""Typed text as lines: remarks left out, and which lines later ones strike."""

import re

from lastbolt.app.typed_names import name_in
from lastbolt.app.typed_words import FIRST_BY, person_key

STRIKE = re.compile(r"^strike\s+(?:lines?\s+)?(\d{1,5}(?:\s*(?:,|&|\band\b)\s*\d{1,5})*)$", re.I)
BETWEEN = re.compile(r"\s*(?:,|;|\band\b|&)\s*", re.I)
"""What stands between places, items, steps or sizes of one line."""
_SPEAKER = re.compile(r"^by(?:\s*:\s*|\s+)(.*)$", re.I)
_FIRST = re.compile(rf"^{FIRST_BY}(?:\s*:\s*|\s+)(.*)$", re.I)
_NUMBER_SIGN = re.compile(r"(^|[,;]\s*|\band\s+)#(?=\d+(?![\d-]))")
""" "#4" is place 4; "#10-32" is a thread."""
_REMARK = re.compile(r"(?:^|\s)#(?!\d).*$")


def lines_of(text: str) -> list[str]:
    """The lines without remarks: what stands behind a "#" that is no number's."""
    return [
        _REMARK.sub("", _NUMBER_SIGN.sub(r"\1", line.strip())).strip()
        for line in text.lstrip("\ufeff").splitlines()
    ]


def remarks_of(text: str) -> dict[int, str]:
    """What stands behind a "#", by the number of its line."""
    found = {}
    for number, line in enumerate(text.lstrip("\ufeff").splitlines(), start=1):
        match = _REMARK.search(_NUMBER_SIGN.sub(r"\1", line.strip()))
        if match is not None:
            found[number] = match.group().strip(" #")
    return found


def said_lines(text: str) -> int:
    """How many of the lines say something."""
    return sum(1 for line in lines_of(text) if line)


def struck(lines: list[str]) -> tuple[set[int], set[int]]:
    """Numbers of the lines struck, and of the lines that strike an earlier one."""
    gone: set[int] = set()
    strikes: set[int] = set()
    for number in range(len(lines), 0, -1):
        match = STRIKE.match(lines[number - 1].rstrip("."))
        named = [int(said) for said in re.findall(r"\d+", match[1])] if match else []
        if named and number not in gone and all(0 < one < number and lines[one - 1] for one in named):
            strikes.add(number)
            gone.update(named)
    return gone, strikes


def first_speaker(lines: list[str], gone: set[int]) -> tuple[str, set[int]]:
    """Who is said to have typed what stands before the first name, and the numbers of the lines saying so.

    Nobody, if they name several people, or none by a name.
    """
    said = {number: found[1] for number, line in enumerate(lines, 1) if (found := _FIRST.match(line))}
    names = {number: name_in(words) for number, words in said.items() if number not in gone}
    people = {person_key(name) for name in names.values()}
    if len(people) != 1 or "" in people:
        return "", set()
    return next(iter(names.values())), set(names)


def speaker_of(line: str) -> str | None:
    """The one name behind "by"; empty if it is no one name, None if the line says no speaker."""
    found = _SPEAKER.match(line)
    return name_in(found[1]) if found else None
