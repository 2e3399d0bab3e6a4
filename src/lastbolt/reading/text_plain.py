"""A plain text manual as blocks: its lines as they were typed, and what their headings are."""

import re

from lastbolt.words.written import Block, Run, Writing

_TAB = 8
_NUMBERED = re.compile(
    r" {0,3}((?:\d{1,3}|[A-Z])(?:[.-]\d{1,3}){1,4})\.?\s(?!.*\s{3})\s*\S.{1,78}(?<![.;,:])"
)
"""A line that stands alone behind a section's number."""


def read_plain(text: str) -> Writing:
    """Each line as it stands; a line with a row of signs below it, as long as it is, is a heading."""
    lines = [line.rstrip() for line in text.replace("\f", "\n").expandtabs(_TAB).split("\n")]
    blocks: list[Block] = []
    skip = False
    for number, line in enumerate(lines, start=1):
        below = lines[number] if number < len(lines) else ""
        if skip or not line.strip():
            skip = False
            continue
        if level := _underlined(line, below):
            blocks.append(Block("heading", number, (Run(line.strip()),), level))
            skip = True
        elif level := _numbered(line, lines[number - 2] if number > 1 else "", below):
            blocks.append(Block("heading", number, (Run(line.strip()),), level))
        elif not _is_rule(line):
            blocks.append(Block("verbatim", number, (Run(line),)))
    return Writing(tuple(blocks))


def _numbered(line: str, above: str, below: str) -> int:
    """The level of a heading that only its number and the blank lines around it show; 0: it is none."""
    match = _NUMBERED.fullmatch(line)
    if match is None or above.strip() or below.strip():
        return 0
    return len(re.split(r"[.-]", match[1]))


def _is_rule(line: str) -> bool:
    bare = line.strip()
    return len(bare) > 3 and len(set(bare)) == 1 and bare[0] in "=-_*~"


def _underlined(line: str, below: str) -> int:
    """The level of a heading by the sign below it; 0: it is none."""
    bare, under = line.strip(), below.strip()
    if len(set(under)) != 1 or under[0] not in "=-~" or len(bare) > 90 or not any(c.isalpha() for c in bare):
        return 0
    if abs(len(bare) - len(under)) > 2 or _is_rule(line):
        return 0
    return "=-~".index(under[0]) + 1
