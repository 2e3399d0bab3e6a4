"""The documents a command was given, opened, and the answer about the joint they speak of."""

from argparse import Namespace
from collections.abc import Sequence
from pathlib import Path

from msgspec import Struct
from msgspec.structs import replace

from lastbolt.app.gather import Gathered, gather
from lastbolt.app.gather_documents import Documents
from lastbolt.app.job_fits import other_machine
from lastbolt.app.joint_names import words_of
from lastbolt.app.put_right import put_right
from lastbolt.app.put_right_shown import put_right_taken
from lastbolt.app.tally_joint import tally_joint
from lastbolt.app.typed_ticks import job_with
from lastbolt.edge import corrections_file, documents
from lastbolt.planning.force import parting_of
from lastbolt.tally.unused import strange_field
from lastbolt.words.answer import Answer
from lastbolt.words.engine import Engine
from lastbolt.words.job import Event, Job
from lastbolt.words.joint import WALK_SCHEMA, Tie, Walk
from lastbolt.words.machine import MODEL_SCHEMA, Machine
from lastbolt.words.plan import Plan
from lastbolt.words.problem import Problem, Refusal
from lastbolt.words.strange import StrangeField

MOST_NEAR = 4


class Papers(Struct, frozen=True):
    """Everything that was opened; the machine is an empty one when no model file was given."""

    machine: Machine
    has_model: bool = False
    walks: tuple[Walk, ...] = ()
    engine: Engine | None = None
    job: Job | None = None
    strange: tuple[StrangeField, ...] = ()
    recorded: bool = True
    """Whether the job is a file that somebody keeps, and not only what typed lines tick."""


def papers_from(args: Namespace) -> Papers:
    """Open every file the command names.

    Raises:
        Refusal: one of them cannot be read, or the job is of another machine; with what to do.
    """
    model = documents.opened(Path(args.model), Machine) if args.model else None
    walks = [documents.opened(Path(path), Walk) for path in getattr(args, "walk", ())]
    engine = documents.opened(Path(args.engine), Engine) if args.engine else None
    job = documents.opened(Path(args.job), Job) if args.job else None
    every = (model, *walks, engine, job)
    machine = model.document if model else Machine(MODEL_SCHEMA, "")
    kept = corrections_from(args)
    if job and model and (other := other_machine(job.document, machine)):
        raise Refusal(other)
    return Papers(
        put_right(machine, kept.corrections).machine if kept else machine,
        model is not None,
        tuple(walk.document for walk in walks),
        engine.document if engine else None,
        job.document if job else None,
        (*(field for one in every if one for field in one.strange), *(kept.strange if kept else ())),
    )


def with_readings(papers: Papers) -> Papers:
    """The papers with what the job's own readings found to be beyond its limit."""
    from lastbolt.app.beyond_found import with_beyond

    return replace(papers, job=with_beyond(papers.machine, papers.job))


def corrections_from(args: Namespace) -> corrections_file.Kept | None:
    """What people put right in the model: the file named, else the one beside it, if there is one.

    Raises:
        Refusal: the file named is not there, or what is there is no corrections file.
    """
    named = getattr(args, "corrections", None)
    if named and not args.model:
        what = "Corrections are of a model, and no model was given."
        raise Refusal(Problem("LB-K02", what, named, "Give the model too (--model FILE).", "stop"))
    if named and not Path(named).exists():
        do = f"Check the name and the folder; you are in {Path.cwd()}."
        raise Refusal(Problem("LB-F01", "There is no such file.", named, do, "stop"))
    path = Path(named) if named else corrections_file.beside(Path(args.model)) if args.model else None
    return corrections_file.read(path) if path and path.exists() else None


def with_ties(papers: Papers, ties: Sequence[Tie]) -> Papers:
    """The papers with typed ties beside those of the walk."""
    if not ties:
        return papers
    joint = papers.walks[0].joint if papers.walks else "joint"
    walk = Walk(WALK_SCHEMA, joint, "", ties=tuple(ties))
    return replace(papers, walks=(*papers.walks, walk))


def with_ticks(papers: Papers, ticks: tuple[Event, ...], goal: str) -> Papers:
    """The papers with typed ticks behind what the job says."""
    if not ticks:
        return papers
    job = job_with(papers.job, ticks, papers.machine, goal)
    return replace(papers, job=job, recorded=papers.job is not None)


def plan_for(papers: Papers, goal: str) -> Plan:
    """The plan for the goal.

    Raises:
        Refusal: no procedure is clearly meant; with the nearest ones, and the fields that nobody reads.
    """
    from lastbolt.app.make_plan import make_plan

    plan = make_plan(papers.machine, goal, papers.engine, papers.job)
    if plan.procedures:
        return plan
    near = "; ".join(f"{one.number} {one.title}" for one in plan.candidates[:MOST_NEAR])
    what = f'No procedure of the model is clearly "{goal}".'
    do = f"Did you mean: {near}?" if near else "Name the part and what is done to it, or a section number."
    unclear = Problem("LB-D10", what, f'goal "{goal}"', do, "stop")
    raise Refusal(unclear, *(strange_field(field, here=True) for field in papers.strange))


def answer_for(papers: Papers, plan: Plan | None) -> Answer:
    """The answer about the joint of the first walk, with the procedures that the plan needs."""
    gathered = gathered_for(papers, plan)
    return tally_joint(gathered.evidence, gathered.beside)


def gathered_for(papers: Papers, plan: Plan | None) -> Gathered:
    """The evidence about the joint of the first walk, and what is shown beside it."""
    lines = plan.lines if plan else ()
    closure = tuple(dict.fromkeys(line.procedure for line in lines if line.procedure))
    called = words_of(papers.walks[0]) if papers.walks else frozenset[str]()
    gathered = gather(
        Documents(
            machine=papers.machine if papers.has_model else None,
            engine=papers.engine,
            walks=papers.walks,
            job=papers.job,
            closure=closure,
            goals=parting_of(plan, called) if plan else (),
            plan_open=plan.open if plan else (),
            strange=papers.strange,
            recorded=papers.recorded,
        )
    )
    said = put_right_taken(papers.machine, closure)
    if not said:
        return gathered
    beside = replace(gathered.beside, taken_as=(*gathered.beside.taken_as, *said))
    return replace(gathered, beside=beside)
