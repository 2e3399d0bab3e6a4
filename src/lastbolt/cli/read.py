"""`lastbolt read`: manuals and parts lists into one model file, and what was read of them."""

import gc
import sys
from argparse import Namespace
from collections.abc import Iterable, Sequence
from pathlib import Path

from lastbolt.app.read_report import ReadReport
from lastbolt.app.read_sources import (
    Marked,
    Paged,
    ReadResult,
    SourceFile,
    Tabled,
    Written,
    read_sources,
    result_of,
)
from lastbolt.cli import say
from lastbolt.cli.columns import ColumnMemory, show_columns
from lastbolt.cli.columns_asked import asked
from lastbolt.cli.corrections_told import corrections_told
from lastbolt.edge.given_files import files_given
from lastbolt.edge.lost_pages import noting_lost, with_lost
from lastbolt.edge.model_file import save_model
from lastbolt.edge.pdf_in import read_pages
from lastbolt.edge.safe_files import sha256_of
from lastbolt.edge.table_in import read_table
from lastbolt.edge.workbook_in import WORKBOOKS, read_workbook
from lastbolt.edge.written_in import SORTS, is_table, read_written
from lastbolt.edge.xml_in import is_marked_up, read_publication
from lastbolt.words.columns import Layout
from lastbolt.words.machine import Machine
from lastbolt.words.problem import Problem, Refusal

TABLES = (".csv", ".tsv", ".txt")
WORKBOOK_TYPE = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
XML_TYPE = "application/xml"
MOST_SHOWN = 40
MOST_NOTES = 12
ABOUT_TORQUES = ("LB-P05", "LB-P06", "LB-P07", "LB-R16")
LEADS = {
    "resolved": "lead to their place",
    "doubtful": "lead there with doubt",
    "ambiguous": "may mean several places",
    "dangling": "lead nowhere",
    "in words": "name work in words only",
    "other book": "point to another book",
    "self": "point to themselves",
}
"""What became of words that point elsewhere."""


def run(args: Namespace) -> int:
    """Read the files and write the model: 0 nothing doubtful, 1 read with doubts, 2 not readable."""
    files, twice = files_given([Path(name) for name in args.files])
    out = Path(args.out)
    if any(out.resolve() == path.resolve() for path in files):
        what = "The model would be written over one of the sources."
        raise Refusal(Problem("LB-D12", what, str(out), "Give --out another name.", "stop"))
    memory = ColumnMemory(Path(args.columns) if args.columns else None)
    answered = asked(files, memory.layouts) if args.columns and not args.json else []
    result = read_files(files, args.name, (*answered, *memory.layouts))
    kept = save_model(out, result.machine)
    added = memory.keep((*answered, *result.layouts))
    said = corrections_told(out, result.machine)
    doubts = [problem for problem in (*result.machine.problems, *said) if problem.grade != "note"]
    told = (*twice, *result.machine.problems, *said, *([kept] if kept else []))
    if args.json:
        say.as_json({"report": result.report, "problems": told, "model": str(out)})
    else:
        show(result.machine, result.report, told)
        say.line(f"\nWritten: {out}")
        if added:
            say.say(f"Columns kept in {args.columns}: {say.count(added, 'new layout')}. Look if it is right.")
    return 1 if doubts else 0


def read_files(files: Sequence[Path], name: str = "", layouts: Sequence[Layout] = ()) -> ReadResult:
    """The files as one model.

    Raises:
        Refusal: one of them cannot be read at all; nothing is written.
    """
    shown: list[say.Progress] = []
    try:
        opened = list(_opened(files, shown))
        lost: list[list[int]] = [[] for _ in opened]
        noted = [_noting(one, pages) for one, pages in zip(opened, lost, strict=True)]
        gc.disable()  # reading makes no circles of values; looking for them costs a sixth of the time
        result = read_sources(noted, name, layouts=layouts)
    finally:
        gc.enable()
        for progress in shown:
            progress.close()
    ids = (source.id for source in result.machine.sources)
    machine = with_lost(result.machine, dict(zip(ids, lost, strict=True)))
    return result_of(machine, result.report.columns, result.layouts)


def _noting(one: Paged | Tabled | Marked | Written, lost: list[int]) -> Paged | Tabled | Marked | Written:
    return one._replace(pages=noting_lost(one.pages, lost)) if isinstance(one, Paged) else one


def _opened(files: Sequence[Path], shown: list[say.Progress]) -> Iterable[Paged | Tabled | Marked | Written]:
    for path in files:
        if path.suffix.lower() in SORTS and not is_table(path):
            text = read_written(path)
            yield Written(
                SourceFile(path.name, sha256_of(path), text.media_type), text.writing, text.problems
            )
        elif path.suffix.lower() in TABLES:
            table = read_table(path)
            file = SourceFile(path.name, sha256_of(path), "text/csv")
            yield Tabled(file, table.sheet, table.problems)
        elif is_marked_up(path):
            publication = read_publication(path)
            yield Marked(SourceFile(path.name, publication.sha256, XML_TYPE), publication)
        elif path.suffix.lower() in WORKBOOKS:
            mark = sha256_of(path)
            for name, table in read_workbook(path):
                file = SourceFile(f"{path.name}, sheet {name}", mark, WORKBOOK_TYPE)
                yield Tabled(file, table.sheet, table.problems)
        else:
            progress = say.Progress(path.name)
            shown.append(progress)
            pages = read_pages(path, progress=progress)
            yield Paged(SourceFile(path.name, sha256_of(path), "application/pdf"), pages)


def summary(report: ReadReport) -> str:
    """One line of counts."""
    references = ", ".join(
        f"{count} {LEADS.get(status, status)}" for status, count in sorted(report.references.items())
    )
    dark = len(report.unexplained)
    return (
        f"{report.pages} pages, {report.sections} sections, {report.procedures} procedures, "
        f"{report.steps} steps, "
        f"{report.figures} figures, {report.rows} parts rows, "
        f"{report.torques} torques, {report.limits} limits, {report.consumables} consumables, "
        f"{report.tools} tools with a number; "
        f"words that point elsewhere: {references or 'none'}; pages not explained: {dark or 'none'}."
    )


def show(machine: Machine, report: ReadReport, problems: Sequence[Problem]) -> None:
    """What was read, and every doubt with what to do: those about torques first."""
    doubts = [problem for problem in problems if problem.grade != "note"]
    doubts.sort(key=lambda problem: problem.code not in ABOUT_TORQUES)
    notes = [problem for problem in problems if problem.grade == "note"]
    left = f" {say.count(len(doubts), 'doubt')} to look at." if doubts else ""
    say.big(f"{machine.name}: {report.steps} steps and {report.rows} parts rows read.{left}")
    say.say(summary(report))
    _sources(machine)
    show_columns(report)
    for page in report.unexplained:
        say.say(f"not explained: {page}", "  ", "    ")
    if doubts:
        say.heading(say.count(len(doubts), "doubt"))
        for problem in doubts[:MOST_SHOWN]:
            say.problem(problem, sys.stdout)
        if len(doubts) > MOST_SHOWN:
            say.say(f"... and {len(doubts) - MOST_SHOWN} more: lastbolt read ... --json")
    if notes:
        say.heading(say.count(len(notes), "note"))
        for problem in notes[:MOST_NOTES]:
            say.say(f"{problem.code}  {problem.what} ({problem.where})", "", "        ")
        if len(notes) > MOST_NOTES:
            say.say(f"... and {len(notes) - MOST_NOTES} more: lastbolt read ... --json")


def _sources(machine: Machine) -> None:
    for source in machine.sources:
        noun = "part" if source.media_type.startswith("text/") else "page"
        size = say.count(source.pages, noun) if source.pages else f"{source.rows} rows"
        if source.media_type == XML_TYPE:
            modules = sum(section.id.startswith(f"{source.id}/") for section in machine.sections)
            size = f"{say.count(modules, 'module')}, {size}"
        title = f", {source.title}" if source.title != source.file else ""
        say.say(f"{source.file}: {source.role}{title}, {size}", "  ", "    ")
