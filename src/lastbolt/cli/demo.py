"""`lastbolt demo`: the whole job on the invented pump engine, from PDF files to one page."""

import sys
import time
from argparse import Namespace
from pathlib import Path
from types import ModuleType

import lastbolt
from lastbolt.app.make_plan import make_plan
from lastbolt.cli import say
from lastbolt.cli.answer_shown import show
from lastbolt.cli.demo_bench import BENCH_FILES, rest_of_the_job
from lastbolt.cli.papers import Papers, answer_for
from lastbolt.cli.read import read_files, summary
from lastbolt.cli.report import write
from lastbolt.edge import documents
from lastbolt.edge.model_file import save_model
from lastbolt.edge.safe_files import keep_beside, make_folder, write_file
from lastbolt.words.engine import Engine
from lastbolt.words.job import Job
from lastbolt.words.joint import Walk
from lastbolt.words.problem import Problem, Refusal

SOURCES = ("manual.pdf", "parts_list.pdf", "parts_list.csv")
BESIDE = ("walk.json", "engine_3.json", "job.json", *BENCH_FILES)


def run(args: Namespace) -> int:
    """Make the sources, read, plan, tally, report, carry the job to its end; 0 when the demo worked."""
    began = time.perf_counter()
    home = Path(lastbolt.__file__).parents[2]
    generator = _generator(home)
    out = Path(args.out)
    sources = out / "sources"
    make_folder(sources)
    generator.generate(sources)
    for name in BESIDE:
        _write_over(out / name, (home / "demo" / name).read_bytes())
    machine, report, _ = read_files([sources / name for name in SOURCES], "Q222 irrigation pump engine")
    kept = save_model(out / "q222.model.json", machine)
    job = documents.load(out / "job.json", Job)
    engine = documents.load(out / "engine_3.json", Engine)
    papers = Papers(machine, True, (documents.load(out / "walk.json", Walk),), engine, job)
    plan = make_plan(machine, job.goal, engine, job)
    documents.save(out / "plan.json", plan)
    answer = answer_for(papers, plan)
    say.problems([kept] if kept else [])
    html, pdf = write(papers, plan, answer, sources, out)
    rest = rest_of_the_job(papers, out)
    if args.json:
        files = [str(one.file) for one in rest if one.file]
        say.as_json({"answer": answer, "report": [str(html), str(pdf)], "bench": files})
        return 0
    show(answer)
    say.heading("What was done")
    say.say(f"Read: {summary(report)}", "  ", "    ")
    say.say(
        f"Plan: {plan.goal}, {len(plan.lines)} lines, {say.count(len(plan.open), 'point')} open.",
        "  ",
        "    ",
    )
    say.heading("How the job went on")
    for one in rest:
        say.say(one.words, "  ", "    ")
    say.say(f"All of it took {time.perf_counter() - began:.1f} s.", "  ")
    say.heading("Look at it")
    say.line(f"  {html}\n  {pdf}\n  {out / 'q222.model.json'}  (every fact with its page)")
    say.line("\n".join(f"  {one.file}" for one in rest if one.file))
    return 0


def _write_over(path: Path, content: bytes) -> None:
    """Write the demo's document; one that somebody has tried something in is kept beside it."""
    if path.is_file() and path.read_bytes() != content:
        say.line(f"{path} was changed since; it is kept as {keep_beside(path)}.", sys.stderr)
    write_file(path, content)


def _generator(home: Path) -> ModuleType:
    """The demo machine's generator, which lies beside the sources of lastbolt, not inside the package."""
    if not (home / "demo" / "generate.py").is_file():
        do = "Get lastbolt's own source folder and type: make demo"
        raise Refusal(
            Problem("LB-D11", "The demo machine is not part of an installed lastbolt.", str(home), do, "stop")
        )
    sys.path.insert(0, str(home))
    import importlib

    return importlib.import_module("demo.generate")
