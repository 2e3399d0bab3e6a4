"""What is different between two editions of a machine's sources, and whom it concerns."""

from typing import Literal

from msgspec import Struct

from lastbolt.words.citation import Citation
from lastbolt.words.problem import Problem

CHANGES_SCHEMA = "lastbolt.changes/1"

ChangeKind = Literal["new", "gone", "changed"]
About = Literal[
    "section",
    "step",
    "torque",
    "quantity",
    "reference",
    "warning",
    "parts row",
    "torque table",
    "table of fasteners",
    "assembly's list",
    "limits",
    "wear limit",
    "text",
    "consumable",
    "tool",
    "legend",
]
FIRST: tuple[About, ...] = ("torque table", "torque")
"""What is told before all else: a wrong torque breaks or loosens what nobody looks at again."""


class Change(Struct, frozen=True, omit_defaults=True):
    """One difference. `what` names the thing by its new number, or by the old one when it is gone.

    `old`/`new`: ids of the step, section or row in each model. `was`/`now`: what stood and stands there.
    """

    kind: ChangeKind
    about: About
    what: str
    was: str = ""
    now: str = ""
    section: str = ""
    """The section it belongs to, as people call it ("4.2 Pump bracket")."""
    old: str = ""
    new: str = ""
    was_at: tuple[Citation, ...] = ()
    now_at: tuple[Citation, ...] = ()
    within: str = ""
    """Of a new step: the id of the old section that it was put into."""
    steps: tuple[str, ...] = ()
    """Of a row of a table or list, or a text: ids of the old steps that speak of it or refer to its place."""
    steps_called: tuple[str, ...] = ()
    """The same steps as people call them ("4.1 step 3")."""


class Touched(Struct, frozen=True, omit_defaults=True):
    """A line of a plan, or something a job says, that rests on changes. `changes`: their numbers, from 0."""

    document: Literal["plan", "job"]
    line: str
    words: str
    changes: tuple[int, ...] = ()
    file: str = ""
    """Which plan or job, where several are asked for."""


class Changes(Struct, frozen=True, omit_defaults=True):
    """The document: `changes` with torques first, then in the order of the new edition, what is gone after
    what stood before it.

    `renumbered`: sections and items of figures whose number changed, (old, new), with nothing else said about
    them.
    """

    schema: str
    old: str
    new: str
    changes: tuple[Change, ...] = ()
    renumbered: tuple[tuple[str, str], ...] = ()
    touched: tuple[Touched, ...] = ()
    problems: tuple[Problem, ...] = ()
    """Fields of the files that nobody reads, so that what they say was not compared; and plans and jobs that
    were made with another model."""
    untouched: tuple[str, ...] = ()
    """The plans and jobs that were looked through and rest on nothing that changed."""
