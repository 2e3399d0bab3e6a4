"""`lastbolt tally`: one sentence about the joint, and what to do next."""

import shlex
import sys
from argparse import Namespace
from functools import partial
from pathlib import Path

from lastbolt.app.gather import Gathered
from lastbolt.app.quick import read_typed
from lastbolt.app.tally_joint import tally_joint
from lastbolt.app.typed_about import about_lines
from lastbolt.app.typed_kind import typed_kind
from lastbolt.app.typed_lines import said_lines
from lastbolt.app.typed_of_papers import SaidOfPapers, said_of_papers
from lastbolt.cli import keyboard, say
from lastbolt.cli.answer_shown import show
from lastbolt.cli.papers import Papers, answer_for, gathered_for, papers_from, plan_for, with_ticks, with_ties
from lastbolt.cli.tally_about import check_about, told_by
from lastbolt.cli.typed_given import text_of
from lastbolt.words.answer import Answer
from lastbolt.words.job import Event
from lastbolt.words.joint import Tie
from lastbolt.words.plan import Plan
from lastbolt.words.problem import Problem, Refusal


def run(args: Namespace) -> int:
    """Say the answer: 0 clear to part, 1 something may hold or not shown, 2 cannot answer."""
    if _at_keyboard(args):
        return _keyboard(args)
    text = text_of(args.typed) if args.typed or not _given(args) else ""
    args = told_by(args, text, args.typed)
    answer = _from_files(args, text) if _given(args) else _typed(text, args.typed)
    if args.json:
        say.as_json(answer)
    elif sys.stdout.isatty() and not args.all:
        keyboard.short(answer)
        say.line("All of it, with the reasons: the same command with --all")
    else:
        show(answer)
    return 0 if answer.clear_to_part else 1


def _given(args: Namespace) -> bool:
    return bool(args.model or args.walk or args.job)


def _at_keyboard(args: Namespace) -> bool:
    """Whether somebody sits there to type: no file named, or one of lines that is there or can be made."""
    if args.json or not keyboard.somebody_there():
        return False
    if args.typed in (None, "-"):
        return not _given(args)
    return Path(args.typed).is_file() or (not Path(args.typed).exists() and Path(args.typed).parent.is_dir())


def _keyboard(args: Namespace) -> int:
    file = None if args.typed in (None, "-") else args.typed
    args = told_by(args, text_of(file) if file and Path(file).exists() else "", file)
    reads = _OntoPapers(args) if _given(args) else partial(read_typed, read_kind=typed_kind)
    about = reads.about if isinstance(reads, _OntoPapers) else ()
    answer = keyboard.ask(file, reads, _answered, _options(args), about)
    return 2 if answer is None else 0 if answer.clear_to_part else 1


def _options(args: Namespace) -> str:
    """The options of the command that name documents, to be typed again."""
    given = [("--model", args.model), ("--goal", args.goal), ("--engine", args.engine), ("--job", args.job)]
    given += [("--walk", walk) for walk in args.walk]
    return "".join(f"{option} {shlex.quote(value)} " for option, value in given if value)


class _OntoPapers:
    """Reads typed lines beside documents, gathered once for each set of rows tied and work ticked."""

    def __init__(self, args: Namespace) -> None:
        self.args = args
        self.papers, self.plan = _opened(args)
        machine = self.papers.machine.name if self.papers.has_model else ""
        self.about = about_lines(machine, self.plan.goal if self.plan else "")
        self.said: tuple[tuple[Tie, ...], tuple[Event, ...]] | None = None
        self.gathered: Gathered | None = None

    def __call__(self, text: str) -> Gathered:
        check_about(text, self.papers, self.plan)
        said = said_of_papers(text, self.papers.machine)
        if self.gathered is None or self.said != (said.ties, said.ticks):
            self.said, self.gathered = (said.ties, said.ticks), _gathered(self.papers, self.plan, said)
        return read_typed(text, typed_kind, onto=self.gathered, tied=said.lines, refused=said.refused)


def _gathered(papers: Papers, plan: Plan | None, said: SaidOfPapers) -> Gathered:
    """What the papers say, with the rows that typed lines tie and the work that they tick."""
    told = with_ticks(with_ties(papers, said.ties), said.ticks, plan.goal if plan else "")
    return gathered_for(told, plan_for(told, plan.goal) if plan and said.ticks else plan)


def _answered(gathered: Gathered) -> Answer:
    return tally_joint(gathered.evidence, gathered.beside)


def _typed(text: str, file: str | None) -> Answer:
    if not said_lines(text):
        what = "Nothing is said there, so nothing is known of this joint yet."
        do = 'Type what the paper list says ("7 x M6x45") and what you see ("1-7 out").'
        raise Refusal(Problem("LB-D13", what, file or "-", do, "stop"))
    return _answered(read_typed(text, typed_kind))


def _from_files(args: Namespace, text: str) -> Answer:
    if not args.walk and not args.typed:
        goal = f' --goal "{args.goal}"' if args.goal else ""
        model = args.model or "MODEL"
        do = f"Type the places: lastbolt tally --model {model}{goal} --typed FILE; or give --walk FILE."
        raise Refusal(
            Problem("LB-D09", "No walk: nothing says where the joint's places are.", "--walk", do, "stop")
        )
    return answer_with(*_opened(args), text)


def _opened(args: Namespace) -> tuple[Papers, Plan | None]:
    """The documents of the command, and the plan for its goal if it names one."""
    papers = papers_from(args)
    goal = args.goal or (papers.job.goal if papers.job else "")
    return papers, plan_for(papers, goal) if goal and papers.has_model else None


def answer_with(papers: Papers, plan: Plan | None, text: str) -> Answer:
    """The answer from the documents, and from what was typed beside them."""
    if not text:
        return answer_for(papers, plan)
    check_about(text, papers, plan)
    said = said_of_papers(text, papers.machine)
    onto = _gathered(papers, plan, said)
    return _answered(read_typed(text, typed_kind, onto=onto, tied=said.lines, refused=said.refused))
