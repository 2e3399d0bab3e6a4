"""Small machines whose plans hold every kind of line, for the tests of exports; all content is invented."""

import datetime
from typing import NamedTuple

from lastbolt.app.export_dita import dita_task
from lastbolt.app.export_s1000d import s1000d_module
from lastbolt.app.make_plan import make_plan
from lastbolt.app.read_sources import Marked, SourceFile, read_sources
from lastbolt.edge.xml_parse import parse
from lastbolt.words.job import JOB_SCHEMA, Job, ProcedureDone
from lastbolt.words.machine import Caution, Machine, Mention, Procedure, Source, TorqueValue
from lastbolt.words.plan import Plan
from lastbolt.words.quantity import Kind, exactly
from lastbolt.words.tree import Element, Module, Publication
from planned import machine, page, proc, ref, step

DAY = datetime.date(2031, 2, 3)
FORMS = ("dita", "s1000d")


class Made(NamedTuple):
    """A machine and the plan for its section 9.1."""

    machine: Machine
    plan: Plan


def every_kind(*, complete: bool = False) -> Made:
    """A plan with an opening, steps, a line to confirm, a condition, and (if not complete) a question."""
    done = proc("3.3", "1", title="Removing the guard", parts=("guard",))
    first = step("1", cautions=(Caution("danger", "The spring kicks.", page(8)),), tools=("puller Z-1",))
    second = step(
        "2",
        cautions=(Caution("note", "Keep the shims.", page(8)), Caution("warning", "Hot oil.", page(8))),
        mentions=(Mention("case screw", "remove", exactly(7, "seven"), Kind("screw", "M6", 45.0)),),
        torques=(TorqueValue((24.0, 24.0), ((24.0, 24.0, "N·m"),)),),
        locks=("lock wire",), left_hand=True, renew=("gasket",), doubt="the figure is smudged",
    )  # fmt: skip
    before = [ref("a", "3.3"), ref("b", status="in words")]
    if not complete:
        before += [ref("c", "4.4", "5.5", any_of=True), ref("d", status="dangling")]
    goal = proc(
        "9.1", first, second, "3", before=tuple(before), title="Parting the case", deed="separate",
        parts=("case",), cautions=(Caution("caution", "Never lever on the faces.", page(3)),),
        tools=("hoist", "Puller Z-1"), materials=("thread sealant",),
    )  # fmt: skip
    others = (proc("4.4", "1", title="Removing the fan"), proc("5.5", "1", title="Removing the duct"))
    sources = (Source("m", "Shop manual", "manual", "m", "Edition 2", "m.pdf"),)
    whole = machine(goal, done, *others, sources=sources)
    job = Job(JOB_SCHEMA, "j", "a", events=(ProcedureDone(id="e", by="Kim", procedure="3.3", looked=True),))
    return Made(whole, make_plan(whole, "9.1", None, job))


def text_of(made: Made, form: str) -> str:
    """The export's text."""
    if form == "dita":
        return dita_task(made.plan, made.machine)
    return s1000d_module(made.plan, made.machine, DAY)


def tree_of(text: str) -> Element:
    """The elements of an export, by the reader's own parser."""
    return parse(text.encode(), "export.xml", "export.xml").root


def read_again(text: str) -> Procedure:
    """The one procedure that the XML reader finds in an export."""
    publication = Publication((Module("export.xml", tree_of(text)),))
    read = read_sources([Marked(SourceFile("export.xml", "0" * 64), publication)]).machine
    (only,) = read.procedures
    return only
