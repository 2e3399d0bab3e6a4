"""Typed lines given to a command of the way back, as a record of the job."""

from argparse import Namespace

from lastbolt.cli.papers import Papers, with_ticks
from lastbolt.cli.tally_about import check_machine
from lastbolt.cli.typed_given import text_of
from lastbolt.words.problem import Problem


def recorded(papers: Papers, args: Namespace) -> tuple[Papers, tuple[Problem, ...]]:
    """The papers with what typed lines record, if any were given, and the lines that say nothing.

    Raises:
        Refusal: the lines are of another machine.
    """
    if not args.typed:
        return papers, ()
    from lastbolt.app.typed_record import typed_record

    text = text_of(args.typed)
    check_machine(text, papers)
    made = typed_record(text, papers.machine, papers.walks)
    return with_ticks(papers, made.events, args.goal), made.problems
