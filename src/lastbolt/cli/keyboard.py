"""Typed lines at the keyboard: each is kept in a file at once, and the answer comes as often as asked."""

import contextlib
import sys
from collections.abc import Callable
from pathlib import Path

from lastbolt.app.gather import Gathered
from lastbolt.cli import say
from lastbolt.edge.plain_text import plain
from lastbolt.edge.typed_in import typed_file
from lastbolt.words.answer import Answer

ASK = (
    (
        "One joint. Type what the list says, one line each:",
        ("7 x M6x45", "2 x M8x70 far side", "end of list"),
    ),
    (
        "then who speaks, what you see, and what lies in the tray:",
        ("by Ann", "1-7 out", "8 in", "9 far side not seen", "went round", "tray 7 x M6x45"),
    ),
)
BESIDE = 61
USUAL = "joint.txt"
MOST_FILES = 1000

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


def _free_name() -> Path | None:
    """joint.txt, or the first joint-2.txt, joint-3.txt ... that is not there yet."""
    stem, _, ending = USUAL.rpartition(".")
    names = [USUAL, *(f"{stem}-{number}.{ending}" for number in range(2, MOST_FILES))]
    return next((Path(name) for name in names if not Path(name).exists()), None)


def somebody_there() -> bool:
    """Whether both ends of the line are a terminal."""
    return sys.stdin.isatty() and sys.stdout.isatty()


def ask(file: str | None, reads: Reads, answers: Answers) -> Answer | None:
    """Ask for lines and answer until an empty line, or the end of input, comes twice; the last answer."""
    kept = Kept(file)
    with contextlib.suppress(ImportError):
        import readline  # noqa: F401  (arrow keys in input())
    if kept.lines:
        say.line(f"{len(kept.lines)} lines are in {kept.path}; what you type is added there.\n")
    else:
        _how()
        say.line(f"What you type is kept in {kept.path or 'no file: none can be made here'}.\n")
    answer = answers(reads(kept.text)) if kept.lines else None
    if answer is not None:
        short(answer)
    return _on_and_on(kept, reads, answers, answer)


def _how() -> None:
    """What to type, the examples beside the words where there is room."""
    for words, lines in ASK:
        if say.width() < BESIDE + max(map(len, lines)):
            say.say(words)
            for line in lines:
                say.line(f"    {line}")
        else:
            for number, line in enumerate(lines):
                say.line(f"{words if number == 0 else '':<{BESIDE}}{line}")
    say.say("An empty line gives the answer; a second one ends.")
    print()


def _on_and_on(kept: Kept, reads: Reads, answers: Answers, answer: Answer | None) -> Answer | None:
    fresh = False
    while True:
        try:
            line = plain(input("  > ")).strip()
        except EOFError:
            print()
            line = ""
        except KeyboardInterrupt:
            say.line("\nStopped." + (f" Every line is in {kept.path}." if kept.path and kept.lines else ""))
            return answer
        if line:
            kept.add(line)
            _flag(kept, reads)
            fresh = True
        elif not fresh:
            _goodbye(kept)
            return answer
        else:
            answer, fresh = answers(reads(kept.text)), False
            short(answer)


def _flag(kept: Kept, reads: Reads) -> None:
    """Say at once when the line just typed was not understood."""
    number = f"line {len(kept.lines)}:"
    for problem in reads(kept.text).beside.problems:
        if problem.where.startswith(number) and problem.grade != "note":
            say.say(f"{problem.what} {problem.do}", "    ")


def _goodbye(kept: Kept) -> None:
    if kept.lines and kept.path:
        say.line(f"All of it, with the reasons: lastbolt tally --typed {kept.path} | less")


def short(answer: Answer) -> None:
    """The sentence and what to do next, with what to type when it is done."""
    print()
    say.big(answer.sentence)
    next_steps(answer)
    print()


def next_steps(answer: Answer) -> None:
    """Next, numbered; below each the lines to type when it was done and nothing was amiss."""
    from lastbolt.app.next_shown import next_shown

    if answer.next_steps:
        print("Next")
    for number, step in enumerate(next_shown(answer), 1):
        say.say(f"{number}. {step.deed} {step.beside}".rstrip(), "  ", "     ")
        for place, line in enumerate(step.to_type):
            say.line(f"     {'then type:' if place == 0 else '          '}  {line}")
