"""A made-up large joint as a `ClaimSet`, written straight from the claim table of the tally's model.

One place after another along a long parting line; lines of a parts list that prints quantities; steps of one
manual that name places; two people who each looked at every place, made a round and counted trays by kind.
Everything here is invented and only serves to measure time.
"""

import random
from dataclasses import dataclass, field

from msgspec import structs

from lastbolt.words.claims import Cause, Claim, ClaimSet, Sense, Unknown


@dataclass(frozen=True)
class Size:
    """How large the joint is and how many mistakes are made in it."""

    places: int = 60
    lines: int = 40
    kinds: int = 4
    steps: int = 6
    tied_share: float = 0.5
    seen_by_second: float = 1.0
    mistakes: int = 3
    unlike: bool = False
    """Whether every place has a chance of its own, so that no two can be exchanged."""
    counters: str = "AB"
    """Who counts the trays, kind by kind in turn."""
    more_rounds: str = ""
    """Who went round besides A and B, looking for further places only."""
    seed: int = 1


@dataclass
class Draft:
    """A claim set while it is being written."""

    unknowns: dict[str, Unknown] = field(default_factory=dict)
    causes: dict[str, Cause] = field(default_factory=dict)
    claims: list[Claim] = field(default_factory=list)

    def cause(self, name: str, chance: float, cost: int = 1) -> str:
        """Note the cause once and return its id."""
        self.causes.setdefault(name, Cause(name, name.split(" ", maxsplit=1)[0], cost, chance))
        return name

    def say(
        self, name: str, unknowns: list[str], sense: Sense, bound: int, causes: tuple[str, ...] = ()
    ) -> None:
        """Add the claim that these unknowns add up to (at most, at least) `bound`."""
        self.claims.append(
            Claim(name, name.split(" ", maxsplit=1)[0], tuple((u, 1) for u in unknowns), sense, bound, causes)
        )


def big_case(size: Size) -> ClaimSet:  # noqa: PLR0915 - one row of the claim table after another
    """The claims about one joint of the given size, with some mistakes made by people and papers."""
    chance = random.Random(size.seed)
    draft = Draft()
    places = [f"p{i + 1}" for i in range(size.places)]
    lines = {f"l{i + 1}": f"k{i % size.kinds + 1}" for i in range(size.lines)}
    truth = {p: chance.choice(list(lines)) for p in places}
    unlisted = {f"not listed {k}": k for k in dict.fromkeys(lines.values())}
    kind_of = {**lines, **unlisted}
    quantity = {line: sum(1 for p in places if truth[p] == line) for line in lines}
    most = max(quantity.values()) + 2

    def piece(state: str, where: str, line: str) -> str:
        name = f"{state}[{where},{line}]"
        draft.unknowns.setdefault(name, Unknown(name, 1 if where in truth else most))
        return name

    def pieces(where: list[str], which: list[str], states: tuple[str, ...] = ("in", "out")) -> list[str]:
        return [piece(s, w, line) for w in where for line in which for s in states]

    everywhere = [*places, "*", "else"]
    draft.cause("changed since", 0.01)
    for p in places:
        draft.say(f"room {p}", pieces([p], list(kind_of)), "<=", 1)
    engine = draft.cause("engine", 0.02)
    wrong = _mistakes(size, chance, places, list(lines))

    lineage = draft.cause("lineage", 0.01)
    for line in lines:
        # A line that is not wholly this joint's prints what the whole machine has of it.
        printed = quantity[line] + (1 if ("list", line) in wrong else 0)
        tied = chance.random() < size.tied_share
        if tied:
            draft.say(
                f"tied {line}", pieces(["else"], [line]), "=", 0, (draft.cause(f"tied {line}", 0.02), engine)
            )
        else:
            printed += chance.randrange(3)
        causes = (draft.cause(f"misprint {line}", 0.01), lineage, engine)
        draft.say(f"list {line}", pieces(everywhere, [line]), "=", printed, causes)
    for line, kind in unlisted.items():
        causes = (draft.cause(f"row left out {kind}", 0.02), engine)
        draft.say(f"complete {kind}", pieces(everywhere, [line]), "=", 0, causes)
    _say_steps(draft, size, places, pieces, list(kind_of))
    for person in ("A", "B"):
        absent = draft.cause(f"person {person}", 0.01)
        # B went round and counted after the last break, so nothing can have changed since.
        since = ("changed since",) if person == "A" else ()
        for p in places:
            if person == "B" and chance.random() > size.seen_by_second:
                continue
            causes = (
                draft.cause(f"misjudged {person} {p}", 0.02),
                absent,
                draft.cause(f"broken {p}", 0.005),
                *since,
            )
            saw_in = ("look " + person, p) in wrong
            draft.say(
                f"look {person} {p}",
                pieces([p], list(kind_of), ("in",) if saw_in else ("out",)),
                "=",
                1,
                causes,
            )
        causes = (draft.cause(f"missed a place {person}", 0.03), absent, *since)
        draft.say(f"round {person}", pieces(["*"], list(kind_of)), "=", 0, causes)
    for person in size.more_rounds:
        causes = (draft.cause(f"missed a place {person}", 0.03), draft.cause(f"person {person}", 0.01))
        draft.say(f"round {person}", pieces(["*"], list(kind_of)), "=", 0, causes)
    for number, kind in enumerate(unlisted.values()):
        person = size.counters[number % len(size.counters)]
        absent = draft.cause(f"person {person}", 0.01)
        since = ("changed since",) if person == "A" else ()
        of_kind = [line for line, k in kind_of.items() if k == kind]
        counted = sum(quantity[line] for line in of_kind if line in lines) - (
            1 if ("tray", kind) in wrong else 0
        )
        causes = (
            draft.cause(f"miscount {kind}", 0.02),
            draft.cause("tray", 0.01),
            absent,
            *since,
        )
        draft.say(f"tray {kind}", pieces(everywhere, of_kind, ("out",)), "=", counted, causes)
    holders = tuple(piece("in", w, line) for w in [*places, "*"] for line in kind_of)
    causes = tuple(draft.causes.values())
    if size.unlike:
        causes = tuple(structs.replace(c, chance=c.chance * (1 + i / 1000)) for i, c in enumerate(causes))
    return ClaimSet(tuple(draft.unknowns.values()), causes, tuple(draft.claims), holders)


def _mistakes(size: Size, chance: random.Random, places: list[str], lines: list[str]) -> set[tuple[str, str]]:
    """Which statements are wrong: a printed quantity, a look, a tray count, and so on in turn."""
    sorts = [("list", lines), ("look B", places), ("tray", ["k1"]), ("look A", places)]
    return {(sorts[i % 4][0], chance.choice(sorts[i % 4][1])) for i in range(size.mistakes)}


def _say_steps(draft, size, places, pieces, which):  # type: ignore[no-untyped-def]
    """Steps of one manual: each names a stretch of places, how many pieces, and A ticked it."""
    if not size.steps:
        return
    length = len(places) // size.steps
    for number in range(size.steps):
        step = f"step{number + 1}"
        own = places[number * length : (number + 1) * length]
        causes = (draft.cause(f"misprint {step}", 0.01), "lineage", "engine")
        draft.say(f"{step} count", pieces(own, which), "=", len(own), causes)
        broken = tuple(draft.cause(f"broken {p}", 0.005) for p in own)
        ticked = (
            draft.cause(f"ticked {step}", 0.02),
            draft.cause("person A", 0.01),
            "changed since",
            *broken,
        )
        draft.say(f"{step} done", pieces(own, which, ("in",)), "=", 0, ticked)
