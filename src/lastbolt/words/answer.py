"""The answer about one joint: what people read, and what a report or another program shows.

`words` of every part are whole sentences in plain shop English. No rate or probability stands in it.
"""

from typing import Literal

from msgspec import Struct

from lastbolt.words.citation import Citation
from lastbolt.words.claims import Verdict
from lastbolt.words.counts import CountTable
from lastbolt.words.joint import HolderSort
from lastbolt.words.picture import Mark
from lastbolt.words.problem import Problem

ANSWER_SCHEMA = "lastbolt.answer/1"


class NextStep(Struct, frozen=True):
    """One thing to look at or count next. `margin_if_it_agrees`: the margin if it finds nothing amiss.

    `check` names it for programs ("look p3"); `also` the like checks at other places, joined to it.
    `to_type`: the typed lines that say it was done and nothing was amiss; NAME and N stand for what only the
    person there knows. `places`: the labels it names; `deed`: what is done at each of them, the same at all,
    {} standing for the place. `new_eyes`: best somebody who has not looked there; `not_alone`: even if it
    agrees, more is wanted.
    """

    words: str
    effort_min: float
    check: str = ""
    margin_if_it_agrees: int | None = None
    also: tuple[str, ...] = ()
    to_type: tuple[str, ...] = ()
    places: tuple[str, ...] = ()
    deed: str = ""
    new_eyes: bool = False
    not_alone: bool = False


class PlaceState(Struct, frozen=True):
    """One place as it stands: its mark for the drawing, in words, and whether to look there.

    `accounted`: somebody looked place by place, or took the fastener out, and nothing says otherwise.
    `seen_by`: who did so; `glanced`: somebody only glanced. `never_there`: the engine's own file says that
    the place has been empty.
    """

    place: str
    label: str
    mark: Mark
    words: str
    accounted: bool
    look: bool = False
    seen_by: tuple[str, ...] = ()
    glanced: bool = False
    never_there: bool = False


class Suspicion(Struct, frozen=True):
    """How something could still hold (or why the sources disagree), with what it rests on.

    `mistakes`: how many independent mistakes it takes; `ways`: which, in words. `about`: places it speaks of
    ("*": one nobody listed); `where` the same in words, and `ways_there` the ways with "that place" for it.
    """

    words: str
    mistakes: int
    sort: Literal["may hold", "disagreement"]
    about: tuple[str, ...] = ()
    citations: tuple[Citation, ...] = ()
    ways: str = ""
    where: str = ""
    ways_there: str = ""


class HolderState(Struct, frozen=True):
    """Another holder of the joint, settled or not. `places`: labels of where it sits, if anybody says.

    `answer`: the word that settles it when all is well ("off", "free", "read").
    """

    id: str
    sort: HolderSort
    name: str
    settled: bool
    words: str
    citations: tuple[Citation, ...] = ()
    places: tuple[str, ...] = ()
    answer: str = "off"


class TakenAs(Struct, frozen=True):
    """A parts row, and what was taken of it: belonging to this joint or not, and why.

    `pieces`: count and size ("9 x screw M8x45"); `places`: labels of where they go; `sure`: tied to this
    joint, not only fitting by size. `words` are `what` it is (`row`: without its size) and the `reason`;
    `tied_by`: who ties it by hand.
    """

    line: str
    words: str
    citations: tuple[Citation, ...] = ()
    pieces: str = ""
    places: tuple[str, ...] = ()
    sure: bool = False
    what: str = ""
    row: str = ""
    reason: str = ""
    tied_by: str = ""


class Answer(Struct, frozen=True):
    """The answer file. `sentence` is the one that matters; `next_steps` stand right below it.

    `clear_to_part`: the fasteners are accounted for and every listed holder is settled.
    `mistakes_if_free`, `mistakes_if_held`: F and G of docs/tally.md; `margin` their difference.
    `witnesses`: everybody whose word it rests on. `unused`: what was said of this joint and could not be
    used; with any of it nothing is called free. `name`: the joint, or the section that parts it; `machine`:
    what the model is called, if there is one. `apart`: which step, looked at by whom, says that the joint is
    apart already; then nothing is left to do before a pull.
    """

    schema: str
    joint: str
    name: str
    verdict: Verdict
    sentence: str
    clear_to_part: bool
    why: str = ""
    next_steps: tuple[NextStep, ...] = ()
    places: tuple[PlaceState, ...] = ()
    counts: CountTable = CountTable((), ())
    suspicions: tuple[Suspicion, ...] = ()
    holders: tuple[HolderState, ...] = ()
    certificate: tuple[str, ...] = ()
    taken_as: tuple[TakenAs, ...] = ()
    not_read: tuple[str, ...] = ()
    not_covered: tuple[str, ...] = ()
    mistakes_if_free: int | None = None
    mistakes_if_held: int | None = None
    margin: int | None = None
    proved: bool = False
    limits: tuple[str, ...] = ()
    problems: tuple[Problem, ...] = ()
    witnesses: tuple[str, ...] = ()
    unused: tuple[str, ...] = ()
    machine: str = ""
    apart: str = ""
