"""What several commands take: their options, their exit codes, and how a command is added."""

import argparse
import importlib
from collections.abc import Callable
from typing import Any, TypeAlias

Commands: TypeAlias = "argparse._SubParsersAction[Any]"
MODEL = "the manual and parts list as one file; lastbolt read writes it"
GOAL = '"split the gearcase", or a section number'
EXIT_CODES = {
    "read": "0 read without a doubt; 1 read and written, with doubts to look at; 2 not read, nothing written",
    "plan": "0 the plan is complete; 1 the plan is made and not complete: the points that are open stand at "
    "its top; 2 no procedure is clearly meant, or a file cannot be read",
    "refit": "0 finished: nothing left over, missing, slack or left in; 1 not finished, or not begun; 2 no "
    "procedure is clearly meant, or a file cannot be read",
    "order": "0 every line has a number and a quantity; 1 some have not, or there is nothing to order; 2 no "
    "procedure is clearly meant, or a file cannot be read or written",
    "measure": "0 all of the sheet is measured and within its limits; 1 something is beyond, not decided, "
    "not measured or not understood; 2 no procedure is clearly meant, or a file cannot be read",
    "fit": "0 understood; 2 not understood, or not in the tables",
    "board": "0 written; 2 a file cannot be read or written, or no place says where it is",
    "thread": "0 understood; 1 measured, and none or several threads measure so; 2 not understood",
    "tally": "0 clear to part: no fastener found, every other holder settled; 1 something may still hold, or "
    "it is not shown that nothing does; 2 cannot answer",
    "report": "of its joint, as those of tally: 0 clear to part; 1 something may still hold, it is not shown "
    "that nothing does, or nobody has gone round the joint; 2 cannot answer, nothing written",
    "correct": "0 ended by you; 2 a file cannot be read, or the page cannot be served",
    "search": "0 found; 1 the words stand nowhere; 2 a file cannot be read",
    "changes": "0 nothing changed; 1 something changed, or a field was not compared; 2 a file cannot be read",
    "compare": "0 everything that two places state agrees; 1 something disagrees, cannot be compared or is "
    "only proposed, or nothing is stated twice; 2 a file cannot be read",
    "serve": "0 ended by you; 2 a file cannot be read, or the page cannot be served",
    "verify": "0 whole; 1 something was edited, dropped, added, swapped or cut off; 2 it is no exported "
    "record, or cannot be read",
    "demo": "0 the demo worked, whatever it says of its joint; 2 it did not",
    "selfcheck": "0 every part that is needed works; 2 one does not",
}


def corrections(made: argparse.ArgumentParser) -> None:
    """The corrections file of a model."""
    made.add_argument(
        "--corrections",
        metavar="FILE",
        help="what people put right in the model (JSON, docs/correcting.md). If not given: the file beside "
        "the model, NAME.corrections.json for NAME.model.json, where there is one",
    )


def job_files(made: argparse.ArgumentParser) -> None:
    """What is known of this one engine and this job."""
    made.add_argument(
        "--engine", metavar="FILE", help="how this one machine differs from its papers (JSON, docs/schemas)"
    )
    made.add_argument(
        "--job", metavar="FILE", help="what was done and seen at the bench, in order (JSON, docs/schemas)"
    )


def typed(made: argparse.ArgumentParser) -> None:
    """What people typed at the bench."""
    made.add_argument(
        "--typed",
        metavar="FILE",
        help="what was seen and done, in typed lines (docs/typed.md); - for another program",
    )


def walk(made: argparse.ArgumentParser) -> None:
    """The joints as people went round them."""
    made.add_argument(
        "--walk",
        action="append",
        default=[],
        metavar="FILE",
        help="the joint as somebody went round it: outline, places, what else holds it (JSON, "
        "docs/schemas/walk-1.json). Without one, type the places. May be given again",
    )


def add(commands: Commands, name: str, words: str) -> argparse.ArgumentParser:
    """A command with what every one takes."""
    description = f"{words[0].upper()}{words[1:]}{'' if words.endswith('?') else '.'}"
    codes = f"exit codes: {EXIT_CODES[name]}."
    made: argparse.ArgumentParser = commands.add_parser(
        name, help=words, description=description, epilog=codes
    )
    made.set_defaults(run=_command(name))
    made.add_argument("--json", action="store_true", help="the result as JSON")
    return made


def _command(module: str) -> Callable[[argparse.Namespace], int]:
    """The command's `run`, imported only when it is called: `--help` must come at once."""

    def run(args: argparse.Namespace) -> int:
        return int(importlib.import_module(f"lastbolt.cli.{module}").run(args))

    return run
