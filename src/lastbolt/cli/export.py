"""A plan written in the forms of other standards, beside the terminal's checklist."""

import datetime
from argparse import Namespace
from pathlib import Path

from lastbolt.cli import say
from lastbolt.edge.safe_files import keep_beside, write_file
from lastbolt.words.machine import Machine
from lastbolt.words.plan import Plan
from lastbolt.words.problem import Problem, Refusal

READ = ("model", "engine", "job")
WRITTEN = ("out", "dita", "s1000d")


def check_names(args: Namespace) -> None:
    """See that no file is written twice, and none of the files that are read.

    Raises:
        Refusal: one is; nothing was written.
    """
    taken = {Path(name).resolve() for option in READ if (name := getattr(args, option, None))}
    if not (args.dita or args.s1000d):
        return
    for option in WRITTEN:
        if not (name := getattr(args, option)):
            continue
        path = Path(name).resolve()
        if path in taken:
            what = f"--{option} names a file that this command reads, or writes with another option."
            raise Refusal(Problem("LB-D21", what, name, f"Give --{option} another name.", "stop"))
        taken.add(path)


def write_forms(args: Namespace, plan: Plan, machine: Machine) -> tuple[str, ...]:
    """Write the forms asked for; the names of their files.

    Raises:
        Refusal: one cannot be written; what stood there is untouched.
    """
    made: list[str] = []
    if args.dita:
        from lastbolt.app.export_dita import dita_task

        _write(args.dita, dita_task(plan, machine))
        made.append(args.dita)
    if args.s1000d:
        from lastbolt.app.export_s1000d import s1000d_module

        _write(args.s1000d, s1000d_module(plan, machine, datetime.date.today()))
        made.append(args.s1000d)
    return tuple(made)


def _write(name: str, text: str) -> None:
    """Write the text; other bytes that stood there are kept beside it, and that is said."""
    path, content = Path(name), text.encode()
    if path.is_file() and path.read_bytes() not in (b"", content):
        kept = keep_beside(path)
        what = "The file to write held something else, which was kept beside it."
        say.problems([Problem("LB-D20", what, str(kept), "Delete it when nobody needs it.", "note")])
    write_file(path, content)
