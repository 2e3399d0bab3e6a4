"""`lastbolt read`: manuals and parts lists into one model file, and what was read of them."""

from argparse import Namespace
from collections.abc import Iterable, Sequence
from pathlib import Path

from lastbolt.app.read_sources import (
    Marked,
    Paged,
    ReadReport,
    ReadResult,
    SourceFile,
    Tabled,
    read_sources,
    report_of,
)
from lastbolt.cli import say
from lastbolt.edge.lost_pages import noting_lost, with_lost
from lastbolt.edge.model_file import save_model
from lastbolt.edge.pdf_in import read_pages
from lastbolt.edge.safe_files import sha256_of
from lastbolt.edge.table_in import read_table
from lastbolt.edge.workbook_in import WORKBOOKS, read_workbook
from lastbolt.edge.xml_in import is_marked_up, read_publication
from lastbolt.words.machine import Machine
from lastbolt.words.problem import Problem, Refusal

TABLES = (".csv", ".tsv", ".txt")
WORKBOOK_TYPE = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
XML_TYPE = "application/xml"
MOST_SHOWN = 40


def run(args: Namespace) -> int:
    """Read the files and write the model: 0 nothing doubtful, 1 read with doubts, 2 not readable."""
    files = [Path(name) for name in args.files]
    out = Path(args.out)
    if any(out.resolve() == path.resolve() for path in files):
        what = "The model would be written over one of the sources."
        raise Refusal(Problem("LB-D12", what, str(out), "Give --out another name.", "stop"))
    result = read_files(files, args.name)
    kept = save_model(out, result.machine)
    doubts = [problem for problem in result.machine.problems if problem.grade != "note"]
    if args.json:
        told = (*result.machine.problems, *([kept] if kept else []))
        say.as_json({"report": result.report, "problems": told, "model": str(out)})
    else:
        show(result.machine, result.report)
        say.line(f"\nWritten: {out}")
        if kept:
            say.say(f"{kept.what} {kept.where}. {kept.do}")
    return 1 if doubts else 0


def read_files(files: Sequence[Path], name: str = "") -> ReadResult:
    """The files as one model.

    Raises:
        Refusal: one of them cannot be read at all; nothing is written.
    """
    shown: list[say.Progress] = []
    try:
        opened = list(_opened(files, shown))
        lost: list[list[int]] = [[] for _ in opened]
        noted = [_noting(one, pages) for one, pages in zip(opened, lost, strict=True)]
        machine = read_sources(noted, name).machine
    finally:
        for progress in shown:
            progress.close()
    ids = (source.id for source in machine.sources)
    machine = with_lost(machine, dict(zip(ids, lost, strict=True)))
    return ReadResult(machine, report_of(machine))


def _noting(one: Paged | Tabled | Marked, lost: list[int]) -> Paged | Tabled | Marked:
    return one._replace(pages=noting_lost(one.pages, lost)) if isinstance(one, Paged) else one


def _opened(files: Sequence[Path], shown: list[say.Progress]) -> Iterable[Paged | Tabled | Marked]:
    for path in files:
        if path.suffix.lower() in TABLES:
            table = read_table(path)
            yield Tabled(SourceFile(path.name, sha256_of(path), "text/csv"), table.sheet, table.problems)
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
    references = ", ".join(f"{count} {status}" for status, count in sorted(report.references.items()))
    dark = len(report.unexplained)
    return (
        f"{report.pages} pages, {report.sections} sections, {report.procedures} procedures, "
        f"{report.steps} steps, "
        f"{report.figures} figures, {report.rows} parts rows, "
        f"{report.torques} torques, {report.limits} limits; "
        f"references: {references or 'none'}; pages not explained: {dark or 'none'}."
    )


def show(machine: Machine, report: ReadReport) -> None:
    """What was read, and every doubt with what to do."""
    say.big(f"{machine.name}: {report.steps} steps and {report.rows} parts rows read.")
    say.say(summary(report))
    for source in machine.sources:
        modules = sum(section.id.startswith(f"{source.id}/") for section in machine.sections)
        size = f"{source.pages} pages" if source.pages else f"{source.rows} rows"
        size = (
            f"{modules} module{'' if modules == 1 else 's'}, {size}"
            if source.media_type == XML_TYPE
            else size
        )
        say.say(f"{source.file}: {source.role}, {source.title}, {size}", "  ", "    ")
    for page in report.unexplained:
        say.say(f"not explained: {page}", "  ", "    ")
    doubts = [problem for problem in machine.problems if problem.grade != "note"]
    notes = len(machine.problems) - len(doubts)
    if doubts:
        say.heading(f"{len(doubts)} doubts")
        for problem in doubts[:MOST_SHOWN]:
            say.say(f"{problem.code}  {problem.what}", "", "        ")
            say.say(problem.where, "  where ", "        ")
            say.say(problem.do, "  do    ", "        ")
        if len(doubts) > MOST_SHOWN:
            say.say(f"... and {len(doubts) - MOST_SHOWN} more: lastbolt read ... --json")
    if notes:
        say.say(f"{notes} notes more, in the model file.")
