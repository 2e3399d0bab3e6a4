"""Headings in a row of cells, "2110 | Lid, remove | 0.4 h": what is plain beside the bold is another line."""

import re
from collections.abc import Iterable

from lastbolt.reading.lines import Line

_FEWEST_LETTERS = 3
_LONGEST = 16
"""What stands beside a heading is so short: a time, a code, a page."""
_BOLD_CELLS = re.compile(r"(?:\S{1,12}\t)?[^\t]+")


def heads_apart(lines: Iterable[Line]) -> list[Line]:
    """The lines; a bold head and the plain cell behind it become two."""
    found: list[Line] = []
    for line in lines:
        head = line.text[: line.lead].rstrip("\t ")
        rest = line.text[len(head) :]
        apart = (
            not line.bold
            and not line.region
            and rest[:1] == "\t"
            and len(rest) <= _LONGEST
            and _BOLD_CELLS.fullmatch(head) is not None
            and sum(c.isalpha() for c in head) >= _FEWEST_LETTERS
        )
        if not apart:
            found.append(line)
            continue
        said = rest.strip()
        share = len(said) / len(line.text)
        cut = line.right - share * (line.right - line.left)
        words = len(said.split())
        found.append(line._replace(text=head, bold=True, right=cut, lead=len(head), words=line.words - words))
        found.append(line._replace(text=said, bold=False, left=cut, lead=0, words=words))
    return found
