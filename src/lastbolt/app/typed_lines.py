"""Typed text as lines: remarks left out, and which lines later ones strike."""

import re

STRIKE = re.compile(r"^strike\s+(?:line\s+)?(\d{1,5})$", re.I)
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
        if match and number not in gone and 0 < int(match[1]) < number and lines[int(match[1]) - 1]:
            strikes.add(number)
            gone.add(int(match[1]))
    return gone, strikes
