"""`lastbolt verify`: whether an exported record is as it was written, without the server."""

import re
import sys
from argparse import Namespace
from pathlib import Path

from lastbolt.cli import say
from lastbolt.edge.json_text import bounded
from lastbolt.record.exported import MOST_BYTES, lines_of
from lastbolt.record.verifying import verify_record
from lastbolt.words.problem import Problem, Refusal
from lastbolt.words.verified import Verified

SHORT_HASH = re.compile(r"[0-9a-f]{64}\Z")


def run(args: Namespace) -> int:
    """0 whole, 1 something in it was changed, 2 it is no record."""
    printed = tuple(_head(word) for word in args.head)
    found = verify_record(lines_of(_read(Path(args.file))), args.file, printed)
    if args.json:
        say.as_json(found)
    else:
        show(found)
    return 0 if found.whole else 1


def _head(word: str) -> str:
    plain = re.sub(r"[\s-]", "", word).lower()
    if not SHORT_HASH.match(plain):
        do = "Type all 64 signs as printed; spaces and - between them do not matter."
        raise Refusal(
            Problem("LB-E38", "A head is 64 signs, 0 to 9 and a to f.", f"--head {word}", do, "stop")
        )
    return plain


def _read(path: Path) -> bytes:
    try:
        raw = bounded(path, MOST_BYTES)
    except OSError as error:
        what = f"Cannot open the record: {error.strerror or error}."
        raise Refusal(Problem("LB-D01", what, str(path), "Check the name.", "stop")) from None
    if raw is None:
        what = f"The file has more than {MOST_BYTES >> 20} MB, which no job has."
        raise Refusal(Problem("LB-E30", what, str(path), "Give the file that was exported.", "stop"))
    return raw


def show(found: Verified) -> None:
    """The one sentence first, then what was found, then how far this reaches."""
    if found.whole:
        say.big(f"The record is whole: {say.count(found.events, 'event')}, none edited, missing or swapped.")
    else:
        say.big(f"The record was changed: {say.count(len(found.problems), 'finding')}.")
    for problem in found.problems:
        say.problem(problem, sys.stdout)
    say.say(f"Job {found.job}.")
    if found.printed and found.before_printed:
        upto = say.count(found.before_printed, "event")
        say.say(f"{upto} up to the printed head, {found.after_printed} after it.")
    if not found.printed:
        say.say("Checked against no paper: a cut-off end shows only with --head and the hash printed on it.")
    for head in found.heads:
        say.line(f"head  {head}")
