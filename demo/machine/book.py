"""Reads the manual's own text files into blocks. Line marks:

# 6 Title            chapter                 ## 6.4 Title     section          ### Title   subheading
: Label | words      line of a set-up block  > 1. | words     step (mark up to the first space)
! WARNING words      safety message          Note words       note             - words     list line
{beside 6-4 ... }    blocks beside Fig. 6-4  {columns ... }   two columns      %fig 6-5    figure
^page  ^column       breaks
%% caption ;; widths ;; ruled|open           starts a table, then lines of `% cell | cell`, head first
"""

from __future__ import annotations

from pathlib import Path

from demo.blocks import (
    Alert,
    Beside,
    Block,
    Bullet,
    Chapter,
    Columns,
    Heading,
    NewColumn,
    NewPage,
    Para,
    Setup,
    Step,
    Sub,
    Table,
)
from demo.machine.pictures import PICTURES

TEXTS = Path(__file__).parent / "manual"


def _line(line: str) -> Block:
    """The block of a line that stands alone."""
    mark, _, rest = line.partition(" ")
    match mark:
        case "##":
            number, _, title = rest.partition(" ")
            return Heading(number, title)
        case "###":
            return Sub(rest)
        case "!":
            signal, _, words = rest.partition(" ")
            return Alert(signal, words)
        case "Note":
            return Alert("Note", rest)
        case ">":
            step, _, words = rest.partition(" ")
            return Step(step, words)
        case "-":
            return Bullet(rest)
        case "%fig":
            return PICTURES[rest].figure()
        case "^page":
            return NewPage()
        case "^column":
            return NewColumn()
    return Para(line)


def _cells(line: str) -> tuple[str, ...]:
    return tuple(cell.strip() for cell in line.removeprefix("%").split("|"))


def _table(lines: list[str]) -> Table:
    """The table that starts the lines; takes its lines away."""
    caption, widths, style = (part.strip() for part in lines.pop(0).removeprefix("%%").split(";;"))
    rows = []
    while lines and lines[0].startswith("% "):
        rows.append(_cells(lines.pop(0)))
    return Table(caption, tuple(widths.split(",")), rows[0], tuple(rows[1:]), style == "ruled")


def _blocks(lines: list[str]) -> tuple[Block, ...]:
    """The blocks up to the closing brace or the end; takes their lines away."""
    found: list[Block] = []
    while lines:
        line = lines[0]
        if line == "}":
            lines.pop(0)
            break
        if line.startswith("%%"):
            found.append(_table(lines))
        elif line.startswith(": "):
            rows = []
            while lines and lines[0].startswith(": "):
                label, words = _cells(lines.pop(0).removeprefix(": "))
                rows.append((label, words))
            found.append(Setup(tuple(rows)))
        elif line.startswith("{beside"):
            number = lines.pop(0).split()[1]
            found.append(Beside(PICTURES[number].figure(), _blocks(lines)))
        elif line == "{columns":
            lines.pop(0)
            found.append(Columns(_blocks(lines)))
        else:
            found.append(_line(lines.pop(0)))
    return tuple(found)


def chapters() -> tuple[Chapter, ...]:
    """All chapters of the manual, in order."""
    made = []
    for path in sorted(TEXTS.glob("*.txt")):
        lines = [line for line in path.read_text(encoding="utf-8").splitlines() if line.strip()]
        number, _, title = lines.pop(0).removeprefix("# ").partition(" ")
        made.append(Chapter(number, title, _blocks(lines)))
    return tuple(made)
