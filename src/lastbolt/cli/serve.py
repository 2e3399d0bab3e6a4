"""`lastbolt serve`: the benches of a class, in their browsers."""

import contextlib
import io
import sys
from argparse import Namespace
from collections.abc import Callable, Iterator
from pathlib import Path

from msgspec.structs import replace

from lastbolt.cli import say
from lastbolt.cli.papers import Papers, answer_for, papers_from, plan_for
from lastbolt.cli.report import beside
from lastbolt.edge.bench_web.jobs import Jobs
from lastbolt.edge.bench_web.jobs import Papers as OfTheClass
from lastbolt.edge.bench_web.people import EVERY_JOB
from lastbolt.edge.bench_web.pictures import Pictures
from lastbolt.edge.bench_web.routes import Room, room_of
from lastbolt.edge.bench_web.serving import Place, Served, serve
from lastbolt.edge.report_files import source_files
from lastbolt.edge.store.record_store import RecordStore
from lastbolt.planning.force import stops
from lastbolt.words.answer import Answer
from lastbolt.words.job import Job
from lastbolt.words.plan import Plan

ROLES = ("instructor", "parts room", "visitor")


def run(args: Namespace) -> int:
    """Serve until Ctrl-C; every event is on the disk before it is answered."""
    papers = papers_from(args)
    plan = plan_for(papers, args.goal)
    store = RecordStore(Path(args.store))
    files, missing = source_files(papers.machine.sources, _folder(args))
    say.problems(missing)
    pictures = Pictures(papers.machine, files)
    jobs = Jobs(store, OfTheClass(*_answers(papers, args.goal), papers.walks, pictures))
    _benches(jobs, papers, plan, args.benches)
    room = room_of(jobs, secure=bool(args.cert))
    served = serve(room, Place(args.host, args.port, args.cert, args.key))
    if args.json:
        say.as_json({"address": served.address, "store": args.store, "codes": dict(_codes(room))})
    else:
        _show(served, args.store)
    sys.stdout.flush()
    if not args.print:
        with contextlib.suppress(KeyboardInterrupt):
            served.run()
    served.listening.close()
    store.close()
    return 0


def _folder(args: Namespace) -> Path:
    """Where the sources lie, for pictures of their pages."""
    return Path(args.sources) if args.sources else beside(Path(args.model))


def _answers(
    papers: Papers, goal: str
) -> tuple[Callable[[Job], Plan | None], Callable[[Job], Answer | None]]:
    """How a job of this class is planned and tallied."""

    def with_job(job: Job) -> Papers:
        return replace(papers, job=job)

    def planned(job: Job) -> Plan | None:
        return plan_for(with_job(job), goal)

    def tallied(job: Job) -> Answer | None:
        return answer_for(with_job(job), planned(job)) if papers.walks else None

    return planned, tallied


def _benches(jobs: Jobs, papers: Papers, plan: Plan, wanted: int) -> None:
    """Open as many jobs as there are benches, each with a hold before every step that parts its joint."""
    joint = papers.walks[0].joint if papers.walks else ""
    engine = papers.engine.id if papers.engine else ""
    for _ in range(wanted - len(jobs.ids())):
        job = jobs.open_job(goal=plan.goal, machine=papers.machine.name, engine=engine, variant=plan.variant)
        for number, step in enumerate(sorted(stops(plan)), start=1):
            hold = {"hold": f"force{number}", "step": step, "joint": joint, "role": "instructor"}
            jobs.write(job, {"event": "hold set", **hold, "wants": "free" if joint else ""})


def _codes(room: Room) -> Iterator[tuple[str, str]]:
    """Every code with what it is for."""
    for number, job in enumerate(room.jobs.ids(), start=1):
        yield f"bench {number}", room.people.code_of(job, "trainee")
    for role in ROLES:
        yield role, room.people.code_of(EVERY_JOB, role)


def _show(served: Served, store: str) -> None:
    say.big(f"The benches join at {served.address}")
    for what, code in _codes(served.room):
        link = f"{served.address}?code={code}"
        say.line(f"{what:12} {code}")
        if what.startswith("bench"):
            say.line(_qr(link))
    say.say(
        "An instructor joins a bench by its code, + and the instructor's code, from this machine or by https."
    )
    say.line(f"Every event is kept at once in {store}")
    say.line("To end: Ctrl-C.")


def _qr(link: str) -> str:
    """The link as a QR code of letters."""
    import segno

    drawn = io.StringIO()
    segno.make(link, error="m", micro=False).terminal(drawn, compact=True)
    return drawn.getvalue()
