"""Scenes outside what is usually assumed: each with its evidence and its truth in words.

No root of settings.py describes what went wrong in these. They show where any account from such
evidence ends; `held` says how it truly is.
"""

from dataclasses import dataclass

from lastbolt.words.evidence import (
    Act,
    Break,
    Evidence,
    EvidencePlace,
    Line,
    ListRead,
    Look,
    Printed,
    RoundMade,
    StepSaid,
    TrayCount,
)
from lastbolt.words.joint import Saw
from lastbolt.words.quantity import Kind, exactly

SHORT, LONG = Kind("screw", "M6", 35.0), Kind("screw", "M6", 60.0)
NUT = Kind("nut", "M8")


@dataclass(frozen=True)
class Outside:
    """One scene: what there is to go by, whether the joint is truly held, and what happened, in words."""

    name: str
    evidence: Evidence
    held: bool
    words: str


def _line(id_: str, kind: Kind, count: int) -> Line:
    return Line(
        id_, kind, (Printed(exactly(count), "list A", "A", "list A, page 1"),), "wholly", "figure heading"
    )


def _all_looked(by: str, places: tuple[str, ...], moment: int, saw: Saw = "out") -> tuple[Look, ...]:
    return tuple(Look(by, place, saw, True, moment) for place in places)


def _finished(
    lines: tuple[Line, ...], places: tuple[EvidencePlace, ...], counted: dict[Kind, int]
) -> Evidence:
    """A joint of which two people say, place by place, that everything is out, and the trays agree."""
    ids = tuple(place.id for place in places)
    return Evidence(
        "gear case, upper to lower half",
        places,
        lines,
        lists=(ListRead("list A", "A"),),
        looks=_all_looked("ada", ids, 3) + _all_looked("bram", ids, 5),
        rounds=(RoundMade("ada", 3), RoundMade("bram", 5)),
        counts=tuple(TrayCount("ada", kind, n, 4) for kind, n in counted.items()),
        people=(("ada", "Ada"), ("bram", "Bram")),
    )


def _places(kinds: tuple[Kind | None, ...]) -> tuple[EvidencePlace, ...]:
    return tuple(EvidencePlace(f"p{n}", str(n), kind) for n, kind in enumerate(kinds, 1))


def sizes_swapped() -> Outside:
    """The list gives two rows each other's size: two errors that look like none, the counts being equal."""
    lines = (_line("L1", LONG, 2), _line("L2", SHORT, 2))
    evidence = _finished(lines, _places((SHORT, SHORT, LONG, LONG)), {SHORT: 2, LONG: 2})
    return Outside(
        "sizes swapped between two rows",
        evidence,
        False,
        "Row 1 should read 35 mm and row 2 60 mm; every fastener is out.",
    )


def sizes_swapped_unequal() -> Outside:
    """As before with unequal counts, and one long screw still in a place nobody has listed."""
    lines = (_line("L1", LONG, 2), _line("L2", SHORT, 3))
    evidence = _finished(lines, _places((SHORT, SHORT, LONG, LONG)), {SHORT: 2, LONG: 2})
    return Outside(
        "sizes swapped, counts unequal",
        evidence,
        True,
        "Truly two short and three long; the third long screw sits under a bracket that nobody listed. "
        "The list makes one think that a short one is missing.",
    )


def stud_holds() -> Outside:
    """The nuts are off; corrosion holds a stud in the upper casting."""
    evidence = _finished((_line("L1", NUT, 2),), _places((NUT, NUT)), {NUT: 2})
    return Outside(
        "nut off but the stud still holds",
        evidence,
        True,
        "Both nuts are off and counted. One stud has grown fast in the bore of the upper half.",
    )


def unnamed_holder() -> Outside:
    """Something other than a fastener bridges the joint, and no source names it."""
    evidence = _finished((_line("L1", SHORT, 3),), _places((SHORT, SHORT, SHORT)), {SHORT: 3})
    return Outside(
        "a holder that no source names",
        evidence,
        True,
        "A bearing cap on the far side, added by an earlier owner, bridges both halves.",
    )


def wrong_joint() -> Outside:
    """The wrong joint was walked: everything said is right, of the neighbouring cover."""
    evidence = _finished((_line("L1", SHORT, 2),), _places((SHORT, SHORT)), {SHORT: 2})
    return Outside(
        "the wrong joint walked",
        evidence,
        True,
        "List, looks and trays all belong to the side cover. None of the case screws was touched.",
    )


def colluding() -> Outside:
    """The second person copied the first one's sheet; neither went round."""
    lines, places = (_line("L1", SHORT, 3),), _places((SHORT, SHORT, SHORT))
    evidence = _finished(lines, places, {})
    return Outside(
        "two people collude",
        evidence,
        True,
        "Ada filled in her sheet from memory, Bram copied it. The screw at place 2 is still in.",
    )


def put_back_between_breaks() -> Outside:
    """Something was put back unrecorded while nobody had left the bench."""
    lines, places = (_line("L1", SHORT, 2),), _places((SHORT, SHORT))
    base = _finished(lines, places, {SHORT: 2})
    acts = (Act("ada", "p1", "took out", 1, "L1", SHORT), Act("ada", "p2", "took out", 2, "L1", SHORT))
    evidence = Evidence(
        base.joint,
        places,
        lines,
        base.lists,
        (),
        base.looks,
        base.rounds,
        acts,
        base.counts,
        (Break(9, "end of the day"),),
        base.people,
    )
    return Outside(
        "put back without any break",
        evidence,
        True,
        "At moment 6 a visitor screwed one back in to keep the halves from shifting; the break came later.",
    )


def step_of_another_model() -> Outside:
    """List and manual agree with each other and both describe another variant of the machine."""
    lines, places = (_line("L1", SHORT, 2),), _places((SHORT, SHORT))
    base = _finished(lines, places, {SHORT: 2})
    step = StepSaid("S1", "L1", None, exactly(2), "manual", "M", (), "done", "ada", 2)
    evidence = Evidence(
        base.joint,
        places,
        lines,
        base.lists,
        (step,),
        base.looks,
        base.rounds,
        (),
        base.counts,
        (),
        base.people,
    )
    return Outside(
        "all papers are of another variant, and both rounds missed the same place",
        evidence,
        True,
        "This variant has a third screw inside the case, reached through the filler; nobody knew to look.",
    )


def deep_shank() -> Outside:
    """A shank broke deep in its hole: even somebody who looked into the hole saw nothing."""
    lines, places = (_line("L1", SHORT, 2),), _places((SHORT, SHORT))
    ids = ("p1", "p2")
    evidence = Evidence(
        "gear case, upper to lower half",
        places,
        lines,
        (ListRead("list A", "A"),),
        looks=_all_looked("ada", ids, 3, "open hole"),
        rounds=(RoundMade("ada", 3),),
        counts=(TrayCount("ada", SHORT, 2, 4, complete_pieces=False),),
        people=(("ada", "Ada"),),
    )
    return Outside(
        "a shank deep in its hole",
        evidence,
        True,
        "At place 2 the head came away 20 mm down; oil stands in the hole. Only heads were counted.",
    )


def empty_joint() -> Outside:
    """Nothing read, nothing seen: no evidence at all."""
    return Outside(
        "no evidence at all", Evidence("gear case, upper to lower half"), True, "Nothing was done yet."
    )


def all_outside() -> tuple[Outside, ...]:
    """Every scene of this file."""
    makers = (
        sizes_swapped,
        sizes_swapped_unequal,
        stud_holds,
        unnamed_holder,
        wrong_joint,
        colluding,
        put_back_between_breaks,
        step_of_another_model,
        deep_shank,
        empty_joint,
    )
    return tuple(make() for make in makers)
