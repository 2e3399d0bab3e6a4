"""What a tally is about, where the command does not say it: the typed lines name their machine and goal."""

import argparse
from argparse import Namespace
from pathlib import Path

from lastbolt.app.typed_about import (
    About,
    about_of,
    other_goal_typed,
    other_machine_typed,
    same_goal,
)
from lastbolt.cli.papers import Papers, plan_for
from lastbolt.edge.models_near import models_near
from lastbolt.words.names import one_machine
from lastbolt.words.plan import Plan
from lastbolt.words.problem import Problem, Refusal


def told_by(args: Namespace, text: str, file: str | None) -> Namespace:
    """The command with the model that its typed lines (of `file`) name, where it names none, and their goal.

    Raises:
        Refusal: the lines name a machine of which no model lies beside them.
    """
    about = about_of(text)
    given = vars(args) | {"goal": args.goal or about.goal}
    if about.machine and not args.model:
        given["model"] = _model_of(about, file)
    return argparse.Namespace(**given)


def check_about(text: str, papers: Papers, plan: Plan | None) -> None:
    """See that typed lines are of this machine and this goal.

    Raises:
        Refusal: they say that they are of another.
    """
    check_machine(text, papers)
    about = about_of(text)
    if plan is None or same_goal(about, plan.goal):
        return
    if plan_for(papers, about.goal).procedures != plan.procedures:
        raise Refusal(other_goal_typed(about, plan.goal))


def check_machine(text: str, papers: Papers) -> None:
    """See that typed lines are of this machine.

    Raises:
        Refusal: they say that they are of another.
    """
    if papers.has_model and (other := other_machine_typed(about_of(text), papers.machine.name)):
        raise Refusal(other)


def _model_of(about: About, file: str | None) -> str:
    folders = dict.fromkeys((Path(file).parent if file and file != "-" else Path(), Path()))
    near = {path.resolve(): name for folder in folders for path, name in models_near(folder).items()}
    fitting = [path for path, name in near.items() if one_machine(about.machine, name)]
    if len(fitting) == 1:
        return str(fitting[0])
    named = "; ".join(f"{path.name} ({name})" for path, name in near.items())
    there = f"; there are: {named}" if near else ""
    what = f'The typed lines are of the machine "{about.machine}", and no model was given.'
    several = f"{len(fitting)} models of that name lie here" if fitting else "None of that name lies here"
    do = f"{several}{there}. Name one: --model FILE."
    raise Refusal(Problem("LB-D25", what, f"typed lines, line {about.machine_line}", do, "stop"))
