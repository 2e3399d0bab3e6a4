"""`lastbolt correct`: serve the page on which what was read is put right by eye."""

import contextlib
import sys
import threading
from argparse import Namespace
from pathlib import Path

from lastbolt.cli import say
from lastbolt.cli.papers import Papers as OpenPapers
from lastbolt.cli.papers import plan_for
from lastbolt.cli.report import beside
from lastbolt.edge import corrections_file, documents
from lastbolt.edge.report_files import source_files
from lastbolt.edge.source_words import passages_of
from lastbolt.edge.web.desk import Desk, Papers
from lastbolt.edge.web.page_pictures import PagePictures
from lastbolt.edge.web.routes import Room
from lastbolt.edge.web.serving import serve
from lastbolt.words.engine import Engine
from lastbolt.words.job import Job
from lastbolt.words.machine import Machine


def run(args: Namespace) -> int:
    """Serve until Ctrl-C; every correction is on disk before the page says so."""
    model = Path(args.model)
    machine = documents.load(model, Machine)
    folder = Path(args.sources) if args.sources else beside(model)
    files, missing = source_files(machine.sources, folder)
    say.problems(missing)
    path = Path(args.corrections) if args.corrections else corrections_file.beside(model)
    engine = documents.load(Path(args.engine), Engine) if args.engine else None
    job = documents.load(Path(args.job), Job) if args.job else None
    papers = Papers(machine, path, args.goal, engine, job, args.by)
    if args.goal:
        plan_for(OpenPapers(machine, True, engine=engine), args.goal)
    desk = Desk(papers, lambda: passages_of(machine, folder)[0])
    pictures = PagePictures(files, {source.id: source for source in machine.sources})
    served = serve(Room(desk, pictures), args.port)
    if args.json:
        say.as_json({"address": served.address, "corrections": str(path)})
    else:
        say.big(desk.state().sentence)
        say.line(f"Open in a browser on this machine:  {served.address}")
        say.line(f"Every correction is kept at once in  {path}")
        say.line("To end: Ctrl-C.")
    sys.stdout.flush()
    threading.Thread(target=desk.index, daemon=True).start()
    with contextlib.suppress(KeyboardInterrupt):
        served.run()
    return 0
