"""Which sources are no witness that they leave no row out, because something of them was not understood."""

from pathlib import PurePath

from lastbolt.words.machine import Machine
from lastbolt.words.problem import Problem

NOT_READ_WHOLE = (
    "LB-F09", "LB-F10", "LB-F11", "LB-F12", "LB-F13", "LB-F14", "LB-F36", "LB-F42", "LB-F48", "LB-P01",
    "LB-P02", "LB-P03", "LB-P08", "LB-P15", "LB-R10", "LB-R11", "LB-R13",
)  # fmt: skip
"""Problems by which a page, a sheet, a column, a row or a callout was not understood."""


def lists_not_read_whole(machine: Machine) -> set[str]:
    """Ids of such sources; of a workbook all its sheets, if one was not understood."""
    found = {page.source for page in machine.pages if page.state == "unexplained"}
    for problem in machine.problems:
        if problem.code in NOT_READ_WHOLE:
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
