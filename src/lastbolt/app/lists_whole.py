"""Which sources are no witness that they leave no row out, because something of them was not understood."""

from pathlib import PurePath

from lastbolt.words.machine import Machine
from lastbolt.words.problem import Problem

ROWS_ARE_THERE = (
    "LB-P04", "LB-P05", "LB-P06", "LB-P07", "LB-P09", "LB-P10", "LB-P11", "LB-P19", "LB-P20", "LB-R01",
    "LB-R02", "LB-R03", "LB-R04", "LB-R05", "LB-R06", "LB-R07", "LB-R08", "LB-R09", "LB-R12", "LB-R14",
    "LB-R15", "LB-R16", "LB-F15", "LB-F16", "LB-F34", "LB-F41", "LB-F43", "LB-F46", "LB-F47", "LB-X08",
    "LB-X09", "LB-X10", "LB-X12",
)  # fmt: skip
"""Problems that say nothing of a row being lost: of values, references, words of one cell. Any other one, a
new one too, means that a page, a sheet, a column, a row or a callout was not understood."""


def lists_not_read_whole(machine: Machine) -> set[str]:
    """Ids of such sources; of a workbook all its sheets, if one was not understood."""
    found = {page.source for page in machine.pages if page.state == "unexplained"}
    for problem in machine.problems:
        if problem.code not in ROWS_ARE_THERE:
            found |= _about(machine, problem)
    files = {source.sha256 for source in machine.sources if source.id in found and source.sha256}
    return found | {source.id for source in machine.sources if source.sha256 in files}


def _about(machine: Machine, problem: Problem) -> set[str]:
    """The sources that a problem speaks of, by its citations or by the file that it names."""
    cited = {citation.source for citation in problem.citations}
    places = (problem.where, PurePath(problem.where).name)
    named = {
        source.id
        for source in machine.sources
        for name in (source.title, source.file.split(", ")[0])
        if name and (any(place.startswith(name) for place in places) or _ends_alike(name, problem.where))
    }
    # What nobody can tell the source of may be of any list.
    return cited | named or {source.id for source in machine.sources if source.role == "parts list"}


def _ends_alike(name: str, where: str) -> bool:
    """Whether a source that got another title ("a/p.csv") is the one named ("p.csv, line 3")."""
    return "/" in name and name.endswith(f"/{where.split(', ', 1)[0]}")
