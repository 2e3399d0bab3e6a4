"""`lastbolt plan`: the checklist in the terminal, or why one line of it is there."""

import gc
from argparse import Namespace
from collections.abc import Iterable, Sequence
from pathlib import Path

from msgspec.structs import replace

from lastbolt.cli import say
from lastbolt.cli.export import check_names, write_forms
from lastbolt.cli.papers import papers_from
from lastbolt.cli.plan_text import at, line_words, show
from lastbolt.cli.typed_given import text_of, ticked_in
from lastbolt.edge import documents
from lastbolt.tally.unused import strange_field
from lastbolt.words.machine import Procedure
from lastbolt.words.plan import Line, Open, Plan
from lastbolt.words.strange import StrangeField

BECAUSE = {
    "goal": "this section is {}",
    "set-up": "required before {}",
    "step": "required by {}",
    "part of": "it belongs to {}",
    "part named": "takes off a part that must be off before {}",
    "question answered": "chosen by an answer, for {}",
    "repeat": "repeated for {}",
}


def run(args: Namespace) -> int:
    """Make and show the plan: 0 complete, 1 made but something is open, 2 no such goal."""
    from lastbolt.app.make_plan import make_plan

    check_names(args)
    papers = papers_from(args)
    if args.typed:
        papers = ticked_in(papers, text_of(args.typed), args.goal)
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
        did_you_mean(plan, papers.machine.procedures)
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


def show_why(plan: Plan, wanted: str) -> int:
    """The chain of reasons for the line numbered, marked or named `wanted`."""
    from lastbolt.planning.why import why

    line = _find(plan, wanted)
    if line is None:
        say.line(f'No line "{wanted}": give the number at the left of the checklist, 1 to {len(plan.lines)}.')
        return 2
    say.say(f"{line_words(line)}{at(line.citations)}")
    chain = why(plan.lines, line.id)
    last = ""
    for link, needs in zip(chain, (*chain[1:], None), strict=True):
        because = link.required_by
        name = _name(needs) if needs else f'the goal "{plan.goal}"'
        said = f': "{because.words}"' if because.words and because.words != last else ""
        place = at(because.citations) if said else ""
        say.say(f"{BECAUSE[because.because].format(name)}{said}{place}", "  ", "    ")
        last = because.words or last
    return 0


def _name(line: Line) -> str:
    """A line by its section and mark: "3.4 step 2"; without a mark by its section, a section by its title."""
    if line.kind == "step" and line.mark:
        return f"{line.number} step {line.mark}".strip()
    if line.kind == "step":
        return f"the first words of {line.number or 'the section named next'}"
    return f"{line.number} {line.words}".strip()


def _find(plan: Plan, wanted: str) -> Line | None:
    numbers = (line for number, line in enumerate(plan.lines, 1) if str(number) == wanted)
    if (numbered := next(numbers, None)) is not None:
        return numbered
    return next((line for line in plan.lines if line.id == wanted), None)


MOST_LISTED = 30
"""More procedures than this are told as their chapters."""


def did_you_mean(plan: Plan, procedures: Sequence[Procedure]) -> None:
    """The procedures that come near; where none does, those there are."""
    say.big(plan.open[0].words if plan.open else f'No procedure is clearly "{plan.goal}".')
    for near in plan.candidates:
        say.say(f"did you mean  {near.number}  {near.title}{at(near.citations)}", "  ", "      ")
    for item in plan.open:
        say.say(item.do)
    if plan.candidates:
        nearest = plan.candidates[0]
        say.line(f'For the first:  lastbolt plan "{nearest.number or nearest.title}" ...')
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
