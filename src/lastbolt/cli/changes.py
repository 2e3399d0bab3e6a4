"""`lastbolt changes`: what a new edition of the sources says otherwise, and which plan and job it touches."""

from argparse import Namespace
from pathlib import Path

from msgspec.structs import replace

from lastbolt.cli import say
from lastbolt.comparing.editions import compare
from lastbolt.comparing.touched import touched
from lastbolt.edge import documents
from lastbolt.words.changes import Change, Changes
from lastbolt.words.job import Job
from lastbolt.words.machine import Machine
from lastbolt.words.plan import Plan
from lastbolt.words.where import places

MOST_WORDS = 160


def run(args: Namespace) -> int:
    """Compare two models: 0 nothing changed, 1 something did, 2 one of the files cannot be read."""
    old = documents.load(Path(args.old), Machine)
    new = documents.load(Path(args.new), Machine)
    plan = documents.load(Path(args.plan), Plan) if args.plan else None
    job = documents.load(Path(args.job), Job) if args.job else None
    found = compare(old, new)
    found = replace(found, touched=touched(found.changes, old, plan, job))
    if args.json:
        say.as_json(found)
    else:
        show(found, asked=bool(plan or job))
    return 1 if found.changes else 0


def show(found: Changes, *, asked: bool) -> None:
    """What it means for the work first, then every change by section with old and new words and pages."""
    total = len(found.changes)
    say.big(f"{say.count(total, 'change')} from {found.old} to {found.new}.")
    if asked:
        _show_touched(found)
    section = None
    for number, change in enumerate(found.changes, start=1):
        if change.section != section:
            section = change.section
            say.heading(section)
        _show_change(number, change)
    if found.renumbered:
        said = ", ".join(f"{was} is now {now}" for was, now in found.renumbered)
        say.say(f"\nOnly the number changed: {said}.")


def _show_touched(found: Changes) -> None:
    for document, head, do in (
        ("plan", "Lines of the plan that rest on a change", "Make the plan again with the new model."),
        ("job", "Ticked before the change", "Look at these again before force is applied or a part goes on."),
    ):
        lines = [one for one in found.touched if one.document == document]
        if lines:
            say.heading(head)
            for one in lines:
                numbers = ", ".join(str(number + 1) for number in one.changes)
                say.say(f"{_short(one.words)}  (change {numbers})", "  - ", "    ")
            say.say(do)
    if not found.touched:
        say.say("No line of the plan and no tick of the job was found to rest on a change.")
    rest = len(found.changes) - len({number for one in found.touched for number in one.changes})
    if rest:
        say.say(
            f"{say.count(rest, 'change')} led to no line (new sections, tables): look through all of them."
        )


def _show_change(number: int, change: Change) -> None:
    say.say(f"{number}. {change.about}, {change.kind}: {change.what}", "  ", "     ")
    if change.was:
        say.say(f"was {_short(change.was)}  ({places(change.was_at)})", "     ", "         ")
    if change.now:
        say.say(f"now {_short(change.now)}  ({places(change.now_at)})", "     ", "         ")
    if not change.was and not change.now:
        say.say(places(change.was_at or change.now_at), "     ")


def _short(words: str) -> str:
    return words if len(words) <= MOST_WORDS else f"{words[:MOST_WORDS].rsplit(' ', 1)[0]} ..."
