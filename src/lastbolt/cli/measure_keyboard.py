"""Readings typed at the keyboard: each line is kept in a file at once, and each reading decided at once."""

import contextlib
from collections.abc import Callable

from msgspec import Struct

from lastbolt.app.measure_shown import limit_words, named, sentence, value_words
from lastbolt.app.typed_words import ASKS_HELP, ENDS, UNDOES
from lastbolt.cli import say
from lastbolt.cli.keyboard import Kept
from lastbolt.edge.plain_text import plain
from lastbolt.words.readings import Decided, Readings

HELP = (
    ("by Lena", "who reads what follows"),
    ("with bore gauge 3", "the tool, as the shop's list calls it"),
    ("zero 0.00", "its zero check; on a master: zero 25.002 on 25.000"),
    ("at 24 C", "how warm the parts are; or: at room temperature"),
    ("of cast aluminium", "what the part is made of"),
    ("4: 0.12 0.13 0.12", "readings of number 4; or enough of its name before the colon"),
    ("6: top 72.01 72.02, bottom 72.00", "places by name"),
    ("4: 0.02 to 0.15", "a dial read at both ends"),
    ("confirm line 7", "looked at again: the strange entry is right"),
    ("strike line 7", 'a slip; "undo" strikes the last line'),
    ("after setting", "it was set or shimmed: what is read now counts"),
    ("sizes", "what is still to be measured"),
)
SHOWS = ("sizes", "list")
NAME_FIRST = "  Who reads? "


class Line(Struct, frozen=True):
    """What one more line makes of it all: the readings, ids of its events, and who reads with what now."""

    readings: Readings
    events: tuple[str, ...]
    told: tuple[str, ...]
    who: str = ""


Reads = Callable[[str, int], Line]
"""All lines typed so far, and the number of the last one."""


def ask(file: str, reads: Reads) -> str:
    """Ask for lines until the second empty one, the end of input or "quit"; all that was typed."""
    kept = Kept(file)
    with contextlib.suppress(ImportError):
        import readline  # noqa: F401  (arrow keys in input())
    talk = _Talk(kept, reads)
    try:
        talk.begin()
        talk.on_and_on()
    except KeyboardInterrupt:
        say.line(f"\nStopped. Every line is in {file}." if kept.path and kept.lines else "\nStopped.")
    return kept.text


class _Talk:
    def __init__(self, kept: Kept, reads: Reads) -> None:
        self.kept, self.reads = kept, reads
        self.ended = False

    def begin(self) -> None:
        """What there is to measure, and whose readings these are."""
        self._sizes()
        say.say(
            'Readings by number ("4: 0.12 0.13"). An empty line sums up, a second one ends; "help" shows all.'
        )
        if self.kept.lines:
            say.line(f"{len(self.kept.lines)} lines are in {self.kept.path}; what you type is added there.\n")
            return
        say.line(f"What you type is kept in {self.kept.path or 'no file: none can be made here'}.\n")
        name = _typed(NAME_FIRST)
        if name and name.casefold() not in ENDS:
            self._keep(name if name.casefold().startswith("by ") else f"by {name}")
        self.ended = name is None or name.casefold() in ENDS

    def on_and_on(self) -> None:
        """Take lines until the end."""
        fresh = True
        while not self.ended:
            line = _typed(f"  {self._line().who}> ")
            key = (line or "").casefold()
            if line is None or not line or key in ENDS:
                if not fresh or key in ENDS or line is None:
                    return
                say.big(sentence(self._line().readings))
                fresh = False
                continue
            fresh = True
            if key in ASKS_HELP:
                _help()
            elif key in SHOWS:
                self._sizes()
            elif key in UNDOES:
                self._undo()
            else:
                self._keep(line)

    def _line(self) -> Line:
        return self.reads(self.kept.text, len(self.kept.lines))

    def _keep(self, line: str) -> None:
        self.kept.add(line)
        made = self._line()
        for words in made.told:
            say.say(words, "    ")
        for one in (*made.readings.decided, *made.readings.sizes):
            if set(made.events) & set(one.events):
                _decided(one, len(self.kept.lines))

    def _undo(self) -> None:
        struck = {line.strip().casefold() for line in self.kept.lines}
        numbers = [
            number for number, line in enumerate(self.kept.lines, 1)
            if line and not line.casefold().startswith("strike") and f"strike line {number}" not in struck
        ]  # fmt: skip
        if not numbers:
            say.say("There is no line to strike.", "    ")
            return
        say.say(f'Line {numbers[-1]} is struck: "{self.kept.lines[numbers[-1] - 1]}".', "    ")
        self._keep(f"strike line {numbers[-1]}")

    def _sizes(self) -> None:
        readings = self._line().readings
        for one in readings.sheet:
            if one.number in readings.open:
                limits = limit_words(one)
                say.say(f"{one.number:>3}  {one.what}: {limits[:1].lower()}{limits[1:]}", "", " " * 7)
        if not readings.open and readings.sheet:
            say.say("Every size of the sheet is measured.")
        print()


def _decided(one: Decided, line: int) -> None:
    """At once below the line: what it decides, and what is strange."""
    say.say(f"{named(one)}: {value_words(one)}. {one.words}", "    ", "      ")
    for question in one.questions:
        say.say(f"? {question}", "    ", "      ")
    if one.questions:
        say.say(f"If it is right: confirm line {line}. If not: undo.", "    ", "      ")


def _help() -> None:
    wide = max(len(line) for line, _ in HELP)
    for line, words in HELP:
        if say.width() < wide + 30:
            say.say(line, "    ")
            say.say(words, "        ")
        else:
            say.say(f"{line:<{wide}}  {words}", "    ", " " * (wide + 6))
    print()


def _typed(prompt: str) -> str | None:
    """A line as typed; None at the end of input."""
    try:
        return plain(input(prompt)).strip()
    except EOFError:
        print()
        return None
