"""At a terminal: which column of a list is what, asked where nobody can tell, and remembered."""

import sys
from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path

from lastbolt.cli import say
from lastbolt.edge.table_in import read_table
from lastbolt.edge.workbook_in import WORKBOOKS, read_workbook
from lastbolt.edge.written_in import is_table
from lastbolt.reading.column_guess import PERHAPS
from lastbolt.reading.column_memory import understood
from lastbolt.words.columns import MEANINGS, ColumnMeaning, ColumnRead, Layout, Meaning
from lastbolt.words.problem import Refusal
from lastbolt.words.sheet import Sheet

ASKED: tuple[tuple[Meaning, str], ...] = (
    ("name", "the part's name"),
    ("quantity", "how many"),
    ("item", "the item in the figure"),
    ("part number", "the part number"),
    ("remarks", "remarks"),
)
NEEDED: tuple[Meaning, ...] = ("name", "quantity")
MOST_TRIES = 3


def asked(files: Iterable[Path], layouts: Sequence[Layout]) -> list[Layout]:
    """The layouts that a person gave now, for lists of which the columns cannot be told.

    Nobody is asked where no person sits at the terminal.
    """
    if not (sys.stdin.isatty() and sys.stdout.isatty()):
        return []
    given: list[Layout] = []
    for name, sheet in _sheets(files):
        meant = understood(sheet, name, (), [*given, *layouts])
        told = {one.means for one in meant.columns if one.why != PERHAPS}
        if meant.layout.guessed and not set(NEEDED) <= told:
            answer = ask(name, meant.columns)
            if answer is not None:
                given.append(answer)
    return given


def _sheets(files: Iterable[Path]) -> Iterator[tuple[str, Sheet]]:
    for path in files:
        try:
            if path.suffix.lower() in (".csv", ".tsv") or is_table(path):
                yield path.name, read_table(path).sheet
            elif path.suffix.lower() in WORKBOOKS:
                yield from (
                    (f"{path.name}, sheet {one.name}", one.table.sheet) for one in read_workbook(path)
                )
        except Refusal:
            continue  # the reading itself says what is wrong with it


def ask(name: str, columns: Sequence[ColumnRead]) -> Layout | None:
    """The layout by a person's answers; None where they leave it open."""
    say.say(f"{name}: which column is what? Type its number; Enter takes what stands in brackets, 0 is none.")
    for number, one in enumerate(columns, start=1):
        cells = f"  ({', '.join(one.cells)})" if one.cells else ""
        say.line(f"  {number}  {one.column or 'without a heading'}{cells}")
    taken: dict[int, Meaning] = {}
    for means, words in ASKED:
        proposed = next((n for n, one in enumerate(columns) if one.means == means and n not in taken), None)
        chosen = _number(words, proposed, len(columns))
        if chosen is None and means in NEEDED:
            return None
        if chosen is not None:
            taken[chosen] = means
    kept = tuple(
        ColumnMeaning(one.column, taken.get(number, MEANINGS["nothing"]))
        for number, one in enumerate(columns)
    )
    return Layout(tuple(one.column for one in columns), kept, first_seen_in=name)


def _number(words: str, proposed: int | None, count: int) -> int | None:
    """The column that a person names, from 0; None for none."""
    for _ in range(MOST_TRIES):
        try:
            said = input(f"  {words} [{'none' if proposed is None else proposed + 1}]: ").strip()
        except EOFError:
            return None
        if not said:
            return proposed
        if said.isdecimal() and len(said) < 4 and int(said) <= count:
            return int(said) - 1 if int(said) else None
        say.say(f"A number from 0 to {count}.", "  ")
    return None
