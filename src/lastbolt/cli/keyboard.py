"""Typed lines at the keyboard: each is kept in a file at once, and the answer comes as often as asked."""

import contextlib
import sys
from collections.abc import Callable
from pathlib import Path

from lastbolt.app.gather import Gathered
from lastbolt.app.typed_about import about_of
from lastbolt.app.typed_lines import lines_of, said_lines, speaker_of, struck
from lastbolt.app.typed_names import name_in
from lastbolt.app.typed_words import ASKS_HELP, ENDS, STATEMENTS, UNDOES, person_key
from lastbolt.cli import say
from lastbolt.edge.plain_text import plain
from lastbolt.edge.typed_in import typed_file
from lastbolt.words.answer import Answer

ASK = (
    (
        "One joint. First your name, then what the list says:",
        ("7 x M6x45", "2 x M8x70 far side", "end of list"),
    ),
    (
        "then what you see; who takes over says so; the tray:",
        ("1-7 out", "8 in", "9 far side not seen", "went round", "by Ben", "tray 7 x M6x45"),
    ),
)
HELP = (
    ("7 x M6x45", "the list has seven of these, all for this joint"),
    ("end of list", "the list was typed to its end"),
    ("by Ann", "who says what follows"),
    ("1-7 out, 8 in", "what is seen: out, in, broken off, open hole, light through, not seen"),
    ("9 open hole both sides", "looked into from both sides"),
    ("3 taken out", "done just now"),
    ("went round", "place by place, both sides, and there is no further place"),
    ("tray 7 x M6x45", "pieces counted over all trays, each from tip to head"),
    ("list compared", "this person held what was typed against the paper list"),
    ("holder pump: off", "something else that held, and holds no more"),
    ("no other holders", "looked for, and there are none"),
    ("strike line 4", 'line 4 was a slip; "undo" strikes the last one'),
)
BESIDE = 61
NARROW = 60
USUAL = "joint.txt"
MOST_FILES = 1000
MOST_LOOKED_AT = 50
NOT_COVERED_SHORT = (
    "a nut that is off while its stud is seized in both halves",
    "the wrong joint looked at, or a kind of fastener taken for another",
    "people who agreed on what to write",
)
CAREFULLY = (
    "The maker's manual, local codes and licensed practice come first. Part it gently and watch the gap all "
    "round; if it sticks anywhere, stop and go round again."
)
NAME_FIRST = "  Your name? "

Reads = Callable[[str], Gathered]
Answers = Callable[[Gathered], Answer]


class Kept:
    """The lines so far, and the file they are added to as they are typed."""

    def __init__(self, file: str | None) -> None:
        self.lines: list[str] = []
        self.path: Path | None = Path(file) if file else None
        if self.path is not None and self.path.exists():
            self.lines = typed_file(self.path).splitlines()
        elif self.path is None:
            self.path = _free_name()

    def add(self, line: str) -> None:
        """Keep one line; one that cannot be written is kept here and said so."""
        self.lines.append(line)
        if self.path is None:
            return
        try:
            ended = not self.path.exists() or self.path.read_bytes()[-1:] in (b"", b"\n")
            with self.path.open("a", encoding="utf-8") as out:
                out.write(f"{'' if ended else chr(10)}{line}\n")
        except OSError as error:
            say.line(f"Cannot write {self.path} ({error.strerror}); the lines are kept only while this runs.")
            self.path = None

    @property
    def text(self) -> str:
        """All lines."""
        return "\n".join(self.lines)

    def last_said(self) -> int:
        """The number of the last line that says something and is not struck; 0 if there is none."""
        lines = lines_of(self.text)
        gone, strikes = struck(lines)
        said = [n for n, line in enumerate(lines, 1) if line and n not in gone and n not in strikes]
        return said[-1] if said else 0


def _usual_names() -> list[Path]:
    """joint.txt, joint-2.txt, joint-3.txt ..."""
    stem, _, ending = USUAL.rpartition(".")
    return [Path(USUAL), *(Path(f"{stem}-{number}.{ending}") for number in range(2, MOST_FILES))]


def _free_name() -> Path | None:
    """The first of the usual names that is not there yet."""
    return next((path for path in _usual_names() if not path.exists()), None)


def _typed_before(new: Path | None) -> str:
    """What was typed here last, under a usual name, and the command that goes on with it; "" if nothing."""
    typed = [path for path in _usual_names()[:MOST_LOOKED_AT] if path.is_file() and path != new]
    last = max(typed, key=lambda path: path.stat().st_mtime, default=None)
    if last is None:
        return ""
    return f"Another joint is in {last}. To go on with that one: lastbolt tally --typed {last}"


def somebody_there() -> bool:
    """Whether both ends of the line are a terminal."""
    return sys.stdin.isatty() and sys.stdout.isatty()


def ask(
    file: str | None, reads: Reads, answers: Answers, papers: str = "", about: tuple[str, ...] = ()
) -> Answer | None:
    """Ask for lines and answer until an empty line, or the end of input, comes twice; the last answer.

    `papers`: the options that name documents; these give the list, and lines tell which of its rows are here.
    `about`: the lines that a file begins with.
    """
    kept = Kept(file)
    with contextlib.suppress(ImportError):
        import readline  # noqa: F401  (arrow keys in input())
    if kept.lines:
        say.line(f"{len(kept.lines)} lines are in {kept.path}; what you type is added there.\n")
    else:
        _opening(kept, papers=bool(papers))
        for line in about:
            kept.add(line)
    talk = _Talk(kept, reads, answers, papers)
    try:
        if talk.name_first():
            talk.on_and_on()
    except KeyboardInterrupt:
        say.line("\nStopped." + (f" Every line is in {kept.path}." if kept.path and kept.lines else ""))
    return talk.answer


def _opening(kept: Kept, *, papers: bool) -> None:
    """What to type, the examples beside the words where there is room."""
    if papers:
        say.say(
            'First your name. Then the rows of this joint ("figure 7 item 3 here"), what you see, the tray.'
        )
    for words, lines in () if papers else ASK:
        if say.width() < BESIDE + max(map(len, lines)):
            say.say(words)
            for line in lines:
                say.line(f"    {line}")
        else:
            for number, line in enumerate(lines):
                say.line(f"{words if number == 0 else '':<{BESIDE}}{line}")
    say.say('An empty line gives the answer; a second one ends. "help" shows all lines.')
    print()
    say.line(f"What you type is kept in {kept.path or 'no file: none can be made here'}.")
    if before := _typed_before(kept.path):
        say.line(before)
    print()


class _Talk:
    """The questions and answers; what is typed goes into `kept`."""

    def __init__(self, kept: Kept, reads: Reads, answers: Answers, papers: str) -> None:
        self.kept, self.reads, self.answers, self.papers = kept, reads, answers, papers
        self.answer: Answer | None = None
        self.fresh = False
        if said_lines(kept.text) > len(about_of(kept.text).lines):
            self._tell()

    def name_first(self) -> bool:
        """Whether to go on: asks who speaks before anything is said; lines typed meanwhile wait for it."""
        waiting: list[str] = []
        try:
            return self._asked_name(waiting)
        finally:
            for line in waiting:
                self._keep(line)

    def _asked_name(self, waiting: list[str]) -> bool:
        while True:
            line = _typed(NAME_FIRST)
            if line is None or _key(line) in ENDS or (not line and not waiting):
                return bool(waiting)
            name = speaker_of(line)
            if name is None and not _is_statement(line):
                name = name_in(line)
            if name:
                self._keep(f"by {name}")
                return True
            if _key(line) in ASKS_HELP:
                _help()
            elif name == "" or not line:
                say.say("The name of one person; who takes over says so later.", "    ")
            else:
                waiting.append(line)
                say.say("Whose line is that? It waits for a name.", "    ")

    def on_and_on(self) -> None:
        """Take lines until the second empty one, the end of input or "quit"."""
        while True:
            line = _typed(f"  {self._speaker()}> ")
            key = _key(line or "")
            if line is None or not line or key in ENDS:
                more = self.fresh and key not in ENDS
                if self.fresh:
                    self._tell()
                if not more:
                    self._goodbye()
                    return
            elif key in ASKS_HELP:
                _help()
            elif key in UNDOES:
                self._undo()
            elif key == "end":
                say.say('"end of list", if the list was typed to its end; "quit" to stop.', "    ")
            else:
                self._keep(line)

    def _keep(self, line: str) -> None:
        self.kept.add(line)
        self.fresh = True
        self._flag()

    def _flag(self) -> None:
        """Say at once when the line just typed was not understood."""
        number = f"line {len(self.kept.lines)}:"
        for problem in self.reads(self.kept.text).beside.problems:
            if problem.where.startswith(number) and problem.grade != "note":
                say.say(f"{problem.what} {problem.do}", "    ")

    def _undo(self) -> None:
        number = self.kept.last_said()
        if not number:
            say.say("There is no line to strike.", "    ")
            return
        say.say(f'Line {number} is struck: "{self.kept.lines[number - 1]}".', "    ")
        self._keep(f"strike line {number}")

    def _speaker(self) -> str:
        lines = lines_of(self.kept.text)
        gone, _ = struck(lines)
        said = [name for n, line in enumerate(lines, 1) if n not in gone and (name := speaker_of(line))]
        return f"{said[-1]} " if said else ""

    def _tell(self) -> None:
        gathered = self.reads(self.kept.text)
        self.answer, self.fresh = self.answers(gathered), False
        short(self.answer, gathered)

    def _goodbye(self) -> None:
        if self.kept.lines and self.kept.path:
            say.line(
                f"All of it, with the reasons: lastbolt tally {self.papers}--typed {self.kept.path} | less"
            )


def _typed(prompt: str) -> str | None:
    """A line as typed; None at the end of input."""
    try:
        return plain(input(prompt)).strip()
    except EOFError:
        print()
        return None


def _key(line: str) -> str:
    return person_key(line)


def _is_statement(line: str) -> bool:
    """Whether a line says something of the joint, so that it is no name."""
    low = person_key(line)
    front = low.startswith(("holder", "strike", "first by", "tray", "item", "figure"))
    return low in (*STATEMENTS, *ASKS_HELP, *UNDOES, "end") or front or any(c.isdigit() for c in low)


def _help() -> None:
    """The lines there are, each with what it says."""
    wide = max(len(line) for line, _ in HELP)
    for line, words in HELP:
        if say.width() < 2 * wide + 20:
            say.say(line, "    ")
            say.say(words, "        ")
        else:
            say.say(f"{line:<{wide}}  {words}", "    ", " " * (wide + 6))
    print()


def short(answer: Answer, gathered: Gathered | None = None) -> None:
    """The sentence and what to do next, with what to type when it is done; if clear, what that rests on."""
    print()
    about(answer)
    say.big(answer.sentence)
    if answer.clear_to_part:
        what_clear_rests_on(answer, gathered)
    next_steps(answer)
    print()


def about(answer: Answer) -> None:
    """Which joint of which machine the answer is about, over the sentence, where somebody named them."""
    if answer.machine:
        say.say(f"{answer.name}, {answer.machine}:")


def what_clear_rests_on(answer: Answer, gathered: Gathered | None = None) -> None:
    """Below "Clear to part": whose word it is, what it does not cover, and how to part with care."""
    from lastbolt.app.rests_on import rests_on_sentence

    if words := rests_on_sentence(answer, gathered.evidence if gathered else None):
        say.say(words)
    say.say(f"Not covered: {'; '.join(words.rstrip('.') for words in NOT_COVERED_SHORT)}.")
    say.say(CAREFULLY)


def next_steps(answer: Answer) -> None:
    """Next, numbered; below each the lines to type when it was done and nothing was amiss."""
    from lastbolt.app.next_shown import next_shown

    if answer.next_steps:
        print("Next")
    for number, step in enumerate(next_shown(answer), 1):
        say.say(f"{number}. {step.deed} {step.beside}".rstrip(), "  ", "     ")
        narrow = say.width() < NARROW
        if narrow and step.to_type:
            say.line("     then type:")
        for place, line in enumerate(step.to_type):
            say.line(f"     {'' if narrow else 'then type:  ' if place == 0 else ' ' * 12}{line}")
