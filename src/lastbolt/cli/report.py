"""`lastbolt report`: plan and tally on one page, as HTML and PDF."""

from argparse import Namespace
from pathlib import Path

from lastbolt.app.report import ReportParts, report_page
from lastbolt.cli import keyboard, say
from lastbolt.cli.papers import Papers, papers_from, plan_for
from lastbolt.cli.tally import answer_with
from lastbolt.cli.typed_given import text_of, ticked_in
from lastbolt.edge.report_files import source_files, write_report
from lastbolt.words.answer import Answer
from lastbolt.words.plan import Plan


def run(args: Namespace) -> int:
    """Write the report and say its sentence; exit codes as for the tally."""
    text = text_of(args.typed) if args.typed else ""
    papers = papers_from(args)
    plan = plan_for(ticked_in(papers, text, args.goal), args.goal)
    answer = answer_with(papers, plan, text) if papers.walks or args.typed else None
    folder = Path(args.sources) if args.sources else beside(Path(args.model))
    made = write(papers, plan, answer, folder, Path(args.out))
    if args.json:
        say.as_json({"answer": answer, "files": [str(path) for path in made]})
    else:
        say.big(
            answer.sentence
            if answer
            else f"{plan.goal}: nobody has gone round the joint yet (--walk, --typed); nothing is known."
        )
        if answer:
            keyboard.next_steps(answer)
        say.heading("Look at it")
        for path in made:
            say.line(f"  {path}")
    return 0 if answer and answer.clear_to_part else 1


def beside(model: Path) -> Path:
    """Where the sources lie when nobody said: in `sources` beside the model, else beside it."""
    inner = model.parent / "sources"
    return inner if inner.is_dir() else model.parent


def write(papers: Papers, plan: Plan, answer: Answer | None, sources: Path, out: Path) -> tuple[Path, Path]:
    """The two files; says on the error stream which sources' pages could not be shown."""
    files, missing = source_files(papers.machine.sources, sources)
    say.problems(missing)
    parts = ReportParts(papers.machine, plan, answer, papers.walks, papers.engine)
    return write_report(report_page(parts), out, files)
