"""`lastbolt plan`: the checklist in the terminal, or why one line of it is there."""

import gc
from argparse import Namespace
from collections.abc import Iterable, Sequence
from pathlib import Path

from msgspec.structs import replace

from lastbolt.app.export_words import STOP
from lastbolt.cli import say
from lastbolt.cli.export import check_names, write_forms
from lastbolt.cli.papers import papers_from
from lastbolt.edge import documents
from lastbolt.planning.force import first_force
from lastbolt.tally.unused import strange_field
from lastbolt.words.citation import Citation
from lastbolt.words.machine import Procedure
from lastbolt.words.plan import Line, Open, Plan
from lastbolt.words.strange import StrangeField
from lastbolt.words.where import where

BECAUSE = {
    "goal": "it is {}",
    "set-up": "required before {}",
    "step": "required by step {}",
    "part of": "a step of {}",
    "part named": "takes off a part that must be off before {}",
    "question answered": "chosen by an answer, for {}",
    "repeat": "repeated for {}",
}


def run(args: Namespace) -> int:
    """Make and show the plan: 0 complete, 1 made but something is open, 2 no such goal."""
    from lastbolt.app.make_plan import make_plan

    check_names(args)
    papers = papers_from(args)
    gc.disable()  # planning makes no circles of values; looking for them in a large model costs a third
    try:
        plan = make_plan(papers.machine, args.goal, papers.engine, papers.job)
    finally:
        gc.enable()
    plan = _with_strange(plan, papers.strange)
    if args.out and plan.procedures:
        documents.save(Path(args.out), plan)
    written = write_forms(args, plan, papers.machine) if plan.procedures else ()
    if args.json:
        say.as_json(plan)
    elif args.why and plan.procedures:
        return show_why(plan, args.why)
    elif plan.procedures:
        show(plan)
        for name in written:
            say.line(f"Written: {name}")
    else:
        _did_you_mean(plan, papers.machine.procedures)
    if not plan.procedures:
        return 2
    return 0 if plan.complete else 1


def _with_strange(plan: Plan, strange: Iterable[StrangeField]) -> Plan:
    """The plan with the fields that nobody reads: what one of them was to say may be a line."""
    told = tuple(strange_field(field, here=True) for field in strange)
    if not told:
        return plan
    found = tuple(Open("field", problem.what, problem.do) for problem in told)
    return replace(plan, complete=False, open=(*plan.open, *found), problems=(*plan.problems, *told))


def show(plan: Plan) -> None:
    """The whole plan, answer first."""
    steps = sum(line.kind == "step" for line in plan.lines)
    state = "complete" if plan.complete else f"not complete: {say.count(len(plan.open), 'point')} open"
    say.big(f"{plan.goal}: {steps} steps, {state}.")
    for item in plan.open:
        say.say(f"- {item.words} {item.do}{_at(item.citations)}", "", "  ")
    if plan.before_off:
        say.heading("Before you take it off")
        for before in plan.before_off:
            say.say(f"- {before.kind}: {before.words}{_at(before.citations)}", "", "  ")
    say.heading("Checklist")
    force = first_force(plan)
    for number, line in enumerate(plan.lines, 1):
        if line.id == force:
            say.say(f"{'':4}  STOP  {STOP}", "", " " * 12)
        _line(number, line)
    _way_back(plan)
    if plan.problems:
        say.heading("Where the sources disagree, or cannot be followed")
        for problem in plan.problems:
            say.say(f"{problem.code}  {problem.what} ({problem.where}) {problem.do}", "", "        ")
    say.line(f'\nWhy is a line here?  lastbolt plan "{plan.goal}" ... --why NUMBER')


def show_why(plan: Plan, wanted: str) -> int:
    """The chain of reasons for the line numbered, marked or named `wanted`."""
    from lastbolt.planning.why import why

    line = _find(plan, wanted)
    if line is None:
        say.line(f'No line "{wanted}": give the number at the left of the checklist, 1 to {len(plan.lines)}.')
        return 2
    say.say(f"{_words(line)}{_at(line.citations)}")
    chain = why(plan.lines, line.id)
    for link, needs in zip(chain, (*chain[1:], None), strict=True):
        because = link.required_by
        name = f"{needs.number} {needs.mark or needs.words}".strip() if needs else f'the goal "{plan.goal}"'
        words = f': "{because.words}"' if because.words else ""
        say.say(f"{BECAUSE[because.because].format(name)}{words}{_at(because.citations)}", "  ", "    ")
    return 0


def _find(plan: Plan, wanted: str) -> Line | None:
    if wanted.isdigit() and 0 < int(wanted) <= len(plan.lines):
        return plan.lines[int(wanted) - 1]
    return next((line for line in plan.lines if line.id == wanted), None)


MOST_LISTED = 30
"""More procedures than this are told as their chapters."""


def _did_you_mean(plan: Plan, procedures: Sequence[Procedure]) -> None:
    """The procedures that come near; where none does, those there are."""
    say.big(f'No procedure is clearly "{plan.goal}".')
    for near in plan.candidates:
        say.say(f"did you mean  {near.number}  {near.title}{_at(near.citations)}", "  ", "      ")
    for item in plan.open:
        say.say(f"{item.words} {item.do}" if plan.candidates else item.do)
    if plan.candidates:
        return
    if not procedures:
        say.say("The model holds no procedure: see what `lastbolt read` said about its sources.")
    elif len(procedures) <= MOST_LISTED:
        say.heading("What there is")
        for procedure in procedures:
            say.say(f"{procedure.number}  {procedure.title}".strip(), "  ", "      ")
    else:
        say.heading(f"What there is: {say.count(len(procedures), 'procedure')}")
        for chapter, inside in _chapters(procedures).items():
            ends = list(dict.fromkeys((inside[0].number, inside[-1].number)))
            numbers = f" ({' to '.join(ends)})" if all(ends) and ends != [chapter.split()[0]] else ""
            said = chapter or "in no chapter"
            say.say(f"{said}: {say.count(len(inside), 'procedure')}{numbers}", "  ", "      ")


def _chapters(procedures: Iterable[Procedure]) -> dict[str, list[Procedure]]:
    found: dict[str, list[Procedure]] = {}
    for procedure in procedures:
        found.setdefault(procedure.chapter, []).append(procedure)
    return found


def _line(number: int, line: Line) -> None:
    only = f"only if {line.only_if}: " if line.only_if else ""
    if line.kind == "opening":
        print()
        head = "  ".join(part for part in (line.number, f"{only}{line.words}") if part)
        say.say(f"{number:4}  {head}{_at(line.citations)}", "", "      ")
        if line.question:
            say.say(line.question, "      ")
    for caution in line.cautions:
        say.say(f"{caution.signal.upper()}  {caution.words}", "      ! ", "        ")
    if line.kind != "opening":
        box = {"to do": "[ ]", "started": "[/]", "taken for done": "[?]"}.get(line.state, "[x]")
        if line.kind in ("confirm", "question", "condition"):
            box = "[?]"
        mark = line.mark if line.kind == "step" else line.number
        mark = f"{mark}  " if mark else ""
        say.say(f"{number:4}  {box} {mark}{only}{_words(line)}{_at(line.citations)}", "", " " * 10)
        if line.question and line.question != line.words:
            say.say(line.question, " " * 10)
        if line.off:
            say.say(f"off: {', '.join(line.off)}", " " * 10, " " * 15)
        if line.kind == "confirm" and line.by:
            say.say(f"ticked by {', '.join(line.by)}", " " * 10)


def _words(line: Line) -> str:
    tags = [
        tag
        for tag, there in (("LEFT-HAND THREAD", line.left_hand), *((x, True) for x in line.locks))
        if there
    ]
    words = f"{line.words} {line.beside}".rstrip()
    return words + (f" [{'; '.join(tags)}]" if tags else "")


def _way_back(plan: Plan) -> None:
    none = [item for item in plan.way_back.returns if item.how == "none"]
    if plan.way_back.new_parts:
        say.heading("Must be new when it goes back")
        for part in plan.way_back.new_parts:
            say.say(f"- {part.part} {', '.join(part.part_numbers)}{_at(part.citations)}", "", "  ")
    if none:
        say.heading("Comes off, and no source says how it goes back")
        for item in none:
            say.say(f"- {item.part}{_at(item.off_citations)}", "", "  ")


def _at(citations: tuple[Citation, ...]) -> str:
    return f"  ({where(citations[0])})" if citations else ""
