"""`lastbolt tally`: one sentence about the joint, and what to do next."""

import sys
from argparse import Namespace
from pathlib import Path

from lastbolt.app.quick import read_typed
from lastbolt.app.tally_joint import tally_joint
from lastbolt.app.typed_kind import typed_kind
from lastbolt.cli import say
from lastbolt.cli.papers import Papers, answer_for, papers_from
from lastbolt.tally.wording_steps import margin_words
from lastbolt.words.answer import Answer
from lastbolt.words.plan import Plan
from lastbolt.words.problem import Problem, Refusal

MOST_SUSPICIONS = 6
ASK = """\
One joint, no manual. Type what the list says, one line each:    7 x M6x45
                                                                 2 x M8x70 far side
then what you see at the places, and what lies in the tray:      1-7 out
                                                                 8 in
                                                                 9 far side not seen
                                                                 tray 7 x M6x45
An empty line ends it.
"""


def run(args: Namespace) -> int:
    """Say the answer: 0 clear to part, 1 something may hold or not shown, 2 cannot answer."""
    answer = _typed(args.typed) if args.typed or _nothing_given(args) else _from_files(args)
    if args.json:
        say.as_json(answer)
    else:
        show(answer)
    return 0 if answer.clear_to_part else 1


def _nothing_given(args: Namespace) -> bool:
    return not (args.model or args.walk or args.job)


def _typed(file: str | None) -> Answer:
    if file and file != "-":
        try:
            text = Path(file).read_text(encoding="utf-8-sig")
        except (OSError, UnicodeDecodeError) as error:
            what = f"Cannot read the typed lines: {getattr(error, 'strerror', None) or 'not plain text'}."
            raise Refusal(
                Problem("LB-D08", what, file, "Give a plain text file, or - to type.", "stop")
            ) from None
    else:
        text = _from_keyboard()
    gathered = read_typed(text, typed_kind)
    return tally_joint(gathered.evidence, gathered.beside)


def _from_keyboard() -> str:
    if not sys.stdin.isatty():
        return sys.stdin.read()
    print(ASK)
    lines: list[str] = []
    while line := input("  > ").strip():
        lines.append(line)
    return "\n".join(lines)


def _from_files(args: Namespace) -> Answer:
    if not args.walk:
        do = "Give the joint as walked (--walk FILE), or type it: lastbolt tally --typed FILE."
        raise Refusal(
            Problem("LB-D09", "No walk: nothing says where the joint's places are.", "--walk", do, "stop")
        )
    papers = papers_from(args)
    return answer_for(papers, _plan(papers, args.goal))


def _plan(papers: Papers, goal: str) -> Plan | None:
    from lastbolt.app.make_plan import make_plan

    goal = goal or (papers.job.goal if papers.job else "")
    if not papers.has_model or not goal:
        return None
    plan = make_plan(papers.machine, goal, papers.engine, papers.job)
    if plan.procedures:
        return plan
    near = "; ".join(f"{one.number} {one.title}" for one in plan.candidates[:4])
    what = f'No procedure of the model is clearly "{goal}".'
    raise Refusal(
        Problem("LB-D10", what, "--goal", f"Did you mean: {near}?" if near else "Say it otherwise.", "stop")
    )


def show(answer: Answer) -> None:
    """The answer in the terminal: sentence, next, suspicions, counts, holders, the rest."""
    say.big(answer.sentence)
    if answer.next_steps:
        print("Next")
        for number, step in enumerate(answer.next_steps, 1):
            more = margin_words(step.margin_if_it_agrees)
            say.say(f"{number}. {step.words}{f' ({more})' if more else ''}", "  ", "     ")
    if answer.why:
        print()
        say.say(answer.why)
    _suspicions(answer)
    if answer.counts.rows:
        say.heading("Counts, side by side")
        say.table(answer.counts.rows, answer.counts.heads)
        for note in answer.counts.notes:
            say.say(note, "  ")
    if answer.holders:
        say.heading("Other holders")
        for holder in answer.holders:
            say.say(f"[{'x' if holder.settled else ' '}] {holder.name}: {holder.words}", "  ", "      ")
    _lines("Why nothing can be in", answer.certificate)
    _lines("Taken as", tuple(taken.words for taken in answer.taken_as))
    _lines("Not read", answer.not_read)
    _lines("Not covered", answer.not_covered)
    if answer.problems:
        print(file=sys.stderr)
        say.problems(answer.problems)


def _suspicions(answer: Answer) -> None:
    if not answer.suspicions:
        return
    say.heading("What may still hold, or does not fit")
    for number, item in enumerate(answer.suspicions[:MOST_SUSPICIONS], 1):
        say.say(f"{number}. {item.words}", "  ", "     ")
        if item.ways:
            say.say(item.ways, "     ")
    if len(answer.suspicions) > MOST_SUSPICIONS:
        print(f"  ... and {len(answer.suspicions) - MOST_SUSPICIONS} more (--json has them).")


def _lines(title: str, lines: tuple[str, ...]) -> None:
    if lines:
        say.heading(title)
        for line in lines:
            say.say(f"- {line}", "  ", "    ")
