"""What a fresh reading means for the corrections that lie beside its model."""

from pathlib import Path

from lastbolt.app.put_right import orphan_problem, put_right
from lastbolt.edge import corrections_file
from lastbolt.words.corrections import standing
from lastbolt.words.machine import Machine
from lastbolt.words.problem import Problem, Refusal


def corrections_told(model: Path, machine: Machine) -> tuple[Problem, ...]:
    """How many corrections still fit, and each that does not; nothing where there are none."""
    path = corrections_file.beside(model)
    if not path.exists():
        return ()
    try:
        kept = corrections_file.read(path)
    except Refusal as refusal:
        return refusal.problems
    every = len(standing(kept.corrections))
    righted = put_right(machine, kept.corrections)
    if not every:
        return ()
    fit = f"{len(righted.held)} of {every} corrections that people made still fit"
    what = f"{fit}; they are kept beside the model."
    do = "plan, tally and report use them; lastbolt correct shows them."
    fitting = Problem("LB-K01", what, str(path), do, "note")
    return (fitting, *(orphan_problem(one) for one in righted.orphans))
