"""`lastbolt changes`: what a new edition of the sources says otherwise, and which plan and job it touches."""

import sys
from argparse import Namespace
from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path

from msgspec.structs import replace

from lastbolt.cli import say
from lastbolt.comparing.editions import compare
from lastbolt.comparing.touched import strangers, touched
from lastbolt.edge import documents
from lastbolt.tally.unused import strange_field
from lastbolt.words.changes import FIRST, Change, Changes, Touched
from lastbolt.words.job import Job
from lastbolt.words.machine import Machine
from lastbolt.words.plan import Plan
from lastbolt.words.problem import Problem
from lastbolt.words.strange import StrangeField
from lastbolt.words.where import places

MOST_WORDS = 160
MOST_STEPS = 12
TORQUES = "Torques"
OF_ANOTHER = "LB-D22"


def run(args: Namespace) -> int:
    """Compare two models: 0 nothing changed, 1 something did, 2 one of the files cannot be read."""
    old = documents.opened(Path(args.old), Machine)
    new = documents.opened(Path(args.new), Machine)
    plans = [(name, documents.load(Path(name), Plan)) for name in args.plan]
    jobs = [(name, documents.opened(Path(name), Job)) for name in args.job]
    found = compare(old.document, new.document)
    marked: list[Touched] = []
    untouched: list[str] = []
    problems = [*_unread(args.old, old.strange), *_unread(args.new, new.strange)]
    asked = [(name, plan, None) for name, plan in plans] + [(name, None, job.document) for name, job in jobs]
    for name, plan, job in asked:
        here = touched(found.changes, old.document, plan, job)
        problems += _of_another(name, strangers(old.document, plan, job))
        marked += [replace(one, file=name) for one in here]
        untouched += [] if here else [name]
    problems += [problem for name, job in jobs for problem in _unread(name, job.strange)]
    found = replace(found, touched=tuple(marked), problems=tuple(problems), untouched=tuple(untouched))
    if args.json:
        say.as_json(found)
    else:
        show(found, asked=bool(asked))
    return 1 if found.changes or problems else 0


def _of_another(file: str, strange: tuple[int, int]) -> Iterator[Problem]:
    """A plan or job of which lines name what the old model does not have."""
    number, of = strange
    if number:
        what = f"{number} of {say.count(of, 'line')} name a step or section that the old model does not have."
        do = "Give the model it was made with as the old one; what changed below was not looked up for these."
        yield Problem(OF_ANOTHER, what, file, do)


def _unread(file: str, strange: Iterable[StrangeField]) -> Iterator[Problem]:
    """Fields that were not compared, because nothing reads them."""
    for field in strange:
        problem = strange_field(field, here=False)
        yield replace(problem, where=f"{file}, {field.thing}")


def show(found: Changes, *, asked: bool) -> None:
    """What it means for the work first, then every change with old and new words and pages: torques first."""
    say.big(_sentence(found))
    others = [problem for problem in found.problems if problem.code == OF_ANOTHER]
    unread = [problem for problem in found.problems if problem.code != OF_ANOTHER]
    if unread:
        say.say("What these fields say was not compared:")
    for problem in (*unread, *others):
        say.problem(problem, sys.stdout)
    if asked:
        _show_touched(found)
    section = None
    for number, change in enumerate(found.changes, start=1):
        head = TORQUES if change.about in FIRST else change.section
        if head != section:
            section = head
            say.heading(head)
        _show_change(number, change)
    if found.renumbered:
        say.heading("Only the number changed")
        for was, now in found.renumbered:
            say.say(f"{was} is now {now}", "  - ", "    ")


def _sentence(found: Changes) -> str:
    total = len(found.changes)
    names = f"{found.old} -> {found.new}" if found.old != found.new else found.old
    if not total:
        moved = len(found.renumbered)
        only = f", but {say.count(moved, 'number')} of sections or items" if moved else ""
        both = "" if found.old != found.new else " Both files call themselves so."
        return f"Nothing changed{only}: {names}.{both}"
    torques = sum(change.about in FIRST for change in found.changes)
    of_torques = f", {torques} of them of torques" if torques else ""
    return f"{say.count(total, 'change')}{of_torques}: {names}."


def _show_touched(found: Changes) -> None:
    for document, head, do in (
        ("plan", "Lines that rest on a change", "Make the plan again with the new model."),
        ("job", "Done before the change", "Look at these again before force is applied or a part goes on."),
    ):
        some = [one for one in found.touched if one.document == document]
        for file in dict.fromkeys(one.file for one in some):
            lines = [one for one in some if one.file == file]
            say.heading(f"{file}: {head[:1].lower()}{head[1:]} ({len(lines)})" if file else head)
            for one in lines:
                numbers = ", ".join(str(number + 1) for number in one.changes)
                named = "change" if len(one.changes) == 1 else "changes"
                say.say(f"{_short(one.words)}  ({named} {numbers})", "  - ", "    ")
            say.say(do)
    for file in found.untouched:
        say.say(f"{file}: nothing in it was found to rest on a change.")
    rest = len(found.changes) - len({number for one in found.touched for number in one.changes})
    if rest:
        say.say(f"{say.count(rest, 'change')} led to no line of these: look through all of them.")


def _show_change(number: int, change: Change) -> None:
    say.say(f"{number}. {change.about}, {change.kind}: {change.what}", "  ", "     ")
    if change.was:
        say.say(f"was {_short(change.was)}  ({places(change.was_at)})", "     ", "         ")
    if change.now:
        say.say(f"now {_short(change.now)}  ({places(change.now_at)})", "     ", "         ")
    if not change.was and not change.now:
        say.say(places(change.was_at or change.now_at), "     ")
    if change.steps_called:
        say.say(f"{_leads(change)}: {_listed(change.steps_called)}", "     ", "         ")


def _leads(change: Change) -> str:
    if change.about == "parts row":
        return "steps that speak of it"
    return "steps that refer to this section" if change.about == "text" else "steps that refer to this table"


def _listed(steps: Sequence[str]) -> str:
    more = len(steps) - MOST_STEPS
    return ", ".join(steps[:MOST_STEPS]) + (f" and {more} more" if more > 0 else "")


def _short(words: str) -> str:
    return words if len(words) <= MOST_WORDS else f"{words[:MOST_WORDS].rsplit(' ', 1)[0]} ..."
