"""`lastbolt`: the words typed at the prompt, and the exit code that comes back.

0: answered; of a tally: no fastener found and every other holder settled. 1: something may still hold, or it
is not shown that nothing does. 2: cannot answer.
"""

import argparse
import contextlib
import errno
import io
import os
import re
import sys
from collections.abc import Sequence
from typing import Any, NoReturn

from lastbolt import __version__
from lastbolt.cli.back_options import add_board, add_fit, add_measure, add_order, add_refit, add_thread
from lastbolt.cli.bench_options import add_serve, add_verify
from lastbolt.cli.options import GOAL, MODEL, Commands, add, corrections, job_files, typed, walk

EPILOG = """\
examples
  lastbolt read manual.pdf parts_list.csv --out winch.model.json
  lastbolt plan "open the gearbox" --model winch.model.json
  lastbolt tally --model winch.model.json --walk joint.walk.json --job bench4.job.json
  lastbolt tally --typed joint.txt        one joint, no manual: ten typed lines
  lastbolt demo                           all of it, on an invented machine

exit codes: 0 answered, and of a joint: clear to part; 1 something may still hold, or not shown;
2 cannot answer. lastbolt COMMAND --help says what they are for that command.
The maker's current manual, local codes and licensed practice come first.
"""

LEFT_OVER = "not known here"
NO_ROOM = (errno.ENOSPC, errno.EDQUOT, errno.EFBIG, errno.EIO)


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command and return its exit code; problems go to the error stream (to stdout with --json)."""
    words = list(sys.argv[1:] if argv is None else argv)
    _open_what_is_closed()
    _take_every_letter()
    if not words:
        _parser().print_help()
        return 2
    try:
        code = _run(words)
        sys.stdout.flush()
        return code
    except BrokenPipeError:
        _let_go_of_output()
    except OSError as error:
        _say_no_room(error)
        _let_go_of_output()
    except KeyboardInterrupt:
        print("\nStopped. What was written is whole; what comes after it was not written.", file=sys.stderr)
    return 2


def _run(words: list[str]) -> int:
    """The command's own exit code, or 2 with its problems said; the system's refusal to write is raised."""
    try:
        args = _parser().parse_args(words)
        _make_plain(args)
        return int(args.run(args))
    except Exception as error:
        if isinstance(error, BrokenPipeError) or (isinstance(error, OSError) and error.errno in NO_ROOM):
            raise
        return _refused(error, as_json="--json" in words)


def _open_what_is_closed() -> None:
    """A stream that the shell closed (">&-") shows its words nowhere; the exit code is the answer."""
    if sys.stdout is None:
        sys.stdout = os.fdopen(os.open(os.devnull, os.O_WRONLY), "w", encoding="utf-8")
    if sys.stderr is None:
        sys.stderr = os.fdopen(os.open(os.devnull, os.O_WRONLY), "w", encoding="utf-8")


def _take_every_letter() -> None:
    """A terminal without some letter shows its number ("\\xb7") and ends nothing."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="backslashreplace")


def _let_go_of_output() -> None:
    """Send to nowhere what could not be written: the interpreter would try again at its end, and exit 120."""
    with contextlib.suppress(OSError, ValueError):
        try:
            sys.stdout.flush()
        except OSError:
            os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def _say_no_room(error: OSError) -> None:
    """Say where there is no room: a full disk or quota, also below standard output."""
    from lastbolt.cli import say
    from lastbolt.words.problem import Problem

    where = str(error.filename or "standard output")
    what = f"The answer cannot be written: {error.strerror}."
    with contextlib.suppress(OSError):
        say.problems([Problem("LB-F20", what, where, "Make room and ask again; nothing was lost.", "stop")])


def _make_plain(args: argparse.Namespace) -> None:
    """Words that go into documents and sheets without signs that hide; file names stay as they are."""
    from lastbolt.edge.plain_text import plain

    for name in ("goal", "name", "why"):
        if isinstance(word := getattr(args, name, None), str):
            setattr(args, name, plain(word))


_UNKNOWN_COMMAND = re.compile(r"invalid choice: '([^']*)'")


class _Parser(argparse.ArgumentParser):
    """Says what is wrong with the words typed as everything else is said: as a problem."""

    def __init__(self, **settings: Any) -> None:
        super().__init__(**{"allow_abbrev": False, **settings})

    def parse_known_args(self, *words: Any, **settings: Any) -> Any:
        """The words parsed; one left over is said by the command that does not know it."""
        known, rest = super().parse_known_args(*words, **settings)
        if rest:
            self.error(f"{LEFT_OVER}: {' '.join(rest)}")
        return known, rest

    def error(self, message: str) -> NoReturn:
        """Raise the message as a problem; its place is the command."""
        from lastbolt.words.problem import Problem, Refusal

        what = f"{message[:1].upper()}{message[1:].rstrip('.')}."
        if unknown := _UNKNOWN_COMMAND.search(message):
            what = f'There is no command "{unknown[1]}".'
        do = f"{self._meant(message)}Type: {self._least()}. {self.prog} --help explains each."
        raise Refusal(Problem("LB-D16", what, self.prog, do, "stop"))

    def _meant(self, message: str) -> str:
        """What may be meant: the nearest command or option, quotes, the model."""
        from difflib import get_close_matches

        if unknown := _UNKNOWN_COMMAND.search(message):
            near = get_close_matches(unknown[1], re.findall(r"'([\w-]+)'", message[unknown.end() :]), 1)
            return f"Did you mean {near[0]}? " if near else ""
        if message.startswith(LEFT_OVER):
            words = message.removeprefix(f"{LEFT_OVER}: ").split()
            options = [name for action in self._actions for name in action.option_strings]
            near = [one for word in words if word[:1] == "-" for one in get_close_matches(word, options, 1)]
            quotes = "Put words that belong together in quotes. " if " -" not in message else ""
            return f"Did you mean {near[0]}? " if near else quotes
        return "Say which model: --model FILE, as lastbolt read wrote it. " if "--model" in message else ""

    def _least(self) -> str:
        """The command with what it cannot do without."""
        needed = [f"{one.option_strings[0]} {one.metavar}" for one in self._actions if one.required
                  and one.option_strings]  # fmt: skip
        places = [str(one.metavar or one.dest) for one in self._actions if not one.option_strings]
        return " ".join((self.prog, *places, *needed))


def _refused(error: Exception, *, as_json: bool) -> int:
    """Say the problems of a refusal; a fault of the program is one too, with its traceback."""
    from lastbolt.cli import say
    from lastbolt.words.problem import Problem, Refusal

    if isinstance(error, Refusal):
        problems = error.problems
    else:
        import traceback

        traceback.print_exception(error, file=sys.stderr)
        what = f"A fault of the program: {type(error).__name__}: {error}."
        do = "Nothing was decided. Please report it with the lines above and the files that you gave."
        problems = (Problem("LB-D14", what, "lastbolt", do, "stop"),)
    if as_json:
        say.as_json({"problems": problems})
    else:
        say.problems(problems)
    return 2


def _parser() -> argparse.ArgumentParser:
    top = _Parser(
        prog="lastbolt",
        description="Account for every fastener of a joint before force is applied.",
        epilog=EPILOG,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    top.add_argument("--version", action="version", version=f"lastbolt {__version__}")
    commands = top.add_subparsers(metavar="COMMAND", required=True)
    _add_read(commands)
    _add_plan(commands)
    add_measure(commands)
    add_refit(commands)
    add_order(commands)
    add_fit(commands)
    add_board(commands)
    add_thread(commands)
    _add_tally(commands)
    _add_report(commands)
    _add_correct(commands)
    _add_search(commands)
    _add_changes(commands)
    _add_compare(commands)
    add_serve(commands)
    add_verify(commands)
    _add_demo(commands)
    _add_selfcheck(commands)
    return top


def _add_read(commands: Commands) -> None:
    read = add(
        commands,
        "read",
        "read manuals and parts lists (PDF, HTML, Markdown, CSV, spreadsheets, XML) into one model file",
    )
    read.add_argument(
        "files", nargs="+", metavar="FILE", help="everything that belongs to one machine; of XML, the folder"
    )
    read.add_argument("--out", required=True, metavar="MODEL", help="the model file to write")
    read.add_argument("--name", default="", help="what the machine is called")
    read.add_argument(
        "--columns",
        metavar="FILE",
        help="what the columns of parts lists mean, layout by layout (JSON, docs/schemas/columns-1.json): "
        "used where it has the layout, written with what was guessed where it has not; edit it by hand",
    )


def _add_plan(commands: Commands) -> None:
    plan = add(commands, "plan", "the complete ordered checklist for a goal in plain words")
    plan.add_argument("goal", metavar="GOAL", help=GOAL)
    plan.add_argument("--model", required=True, metavar="FILE", help=MODEL)
    corrections(plan)
    job_files(plan)
    typed(plan)
    plan.add_argument("--why", metavar="LINE", help="the chain of reasons for one line, by its number")
    plan.add_argument("--out", metavar="FILE", help="also write the plan as JSON here")
    plan.add_argument("--dita", metavar="FILE", help="also write it as a DITA machinery task here")
    plan.add_argument("--s1000d", metavar="FILE", help="also write it as an S1000D procedural module here")


def _add_tally(commands: Commands) -> None:
    tally = add(commands, "tally", "account for a joint's fasteners: can anything still be holding?")
    tally.add_argument("--model", metavar="FILE", help=MODEL)
    corrections(tally)
    tally.add_argument("--goal", default="", metavar="WORDS", help="the procedure that parts the joint")
    walk(tally)
    job_files(tally)
    tally.add_argument(
        "--typed",
        metavar="FILE",
        help="typed lines, one a statement (docs/typed.md): a joint without a manual, or what you saw beside "
        "the files; - for another program. With no option at all lastbolt asks for the lines",
    )
    tally.add_argument(
        "--all", action="store_true", help="everything the answer rests on, also in a terminal"
    )


def _add_report(commands: Commands) -> None:
    report = add(commands, "report", "plan and tally on one page to look at: HTML and PDF")
    report.add_argument("goal", metavar="GOAL", help=GOAL)
    report.add_argument("--model", required=True, metavar="FILE", help=MODEL)
    corrections(report)
    walk(report)
    job_files(report)
    typed(report)
    report.add_argument(
        "--sources",
        metavar="FOLDER",
        help="where the source PDFs lie, for pictures of their pages. If not given: the folder sources "
        "beside the model, or, where there is none, the model's own folder",
    )
    report.add_argument("--out", required=True, metavar="FOLDER", help="where report.html and report.pdf go")


SOURCES = (
    "where the sources' files lie, {}. If not given: the folder sources beside the model, or, where there is "
    "none, the model's own folder"
)


def _add_correct(commands: Commands) -> None:
    words = "put right by eye what was read: pages and facts side by side, in your own browser"
    correct = add(commands, "correct", words)
    correct.add_argument("model", metavar="MODEL", help=MODEL)
    correct.add_argument("--goal", default="", metavar="GOAL", help=f"what it needs comes first: {GOAL}")
    job_files(correct)
    corrections(correct)
    correct.add_argument("--sources", metavar="FOLDER", help=SOURCES.format("for pictures of their pages"))
    correct.add_argument("--by", default="", metavar="NAME", help="your name, which each correction carries")
    correct.add_argument(
        "--port", type=int, default=0, metavar="NUMBER", help="of this machine; 0: any free one"
    )


def _add_search(commands: Commands) -> None:
    search = add(commands, "search", "where words, sizes or part numbers stand in the sources")
    search.add_argument(
        "words", nargs="+", metavar="WORDS", help='all of them must stand there; "..." together'
    )
    search.add_argument("--model", required=True, metavar="FILE", help=MODEL)
    search.add_argument("--sources", metavar="FOLDER", help=SOURCES.format("to search every word of them"))


def _add_changes(commands: Commands) -> None:
    words = "what a new edition says otherwise, and which plan and job it touches"
    changes = add(commands, "changes", words)
    changes.add_argument("old", metavar="OLD", help="the model of the edition in use")
    changes.add_argument("new", metavar="NEW", help="the model of the new edition")
    again = "may be given again"
    changes.add_argument(
        "--plan", action="append", default=[], metavar="FILE", help=f"a plan made with the old model; {again}"
    )
    changes.add_argument(
        "--job", action="append", default=[], metavar="FILE", help=f"a job ticked by the old model; {again}"
    )


def _add_compare(commands: Commands) -> None:
    words = "what two places of the sources say of one thing: counts with their sums, sizes, torques, limits"
    compare = add(commands, "compare", words)
    compare.add_argument(
        "models", nargs="+", metavar="MODEL", help=f"{MODEL}; more than one: read from several papers"
    )
    compare.add_argument("--all", action="store_true", help="also the places of what agrees")


def _add_demo(commands: Commands) -> None:
    demo = add(commands, "demo", "the whole job on an invented pump engine: read, plan, tally, report")
    demo.add_argument("--out", default="demo-out", metavar="FOLDER", help="where everything goes")


def _add_selfcheck(commands: Commands) -> None:
    add(commands, "selfcheck", "try every part of this installation once: what works here, what is missing")


if __name__ == "__main__":
    sys.exit(main())
