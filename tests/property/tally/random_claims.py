"""Small claim sets by chance: any linear relations at all, and joints with people, lists and steps."""

import random

from brute.claim_table import Count, Line, Look, Reading, Row, Scene, Step, claims_of
from lastbolt.words.claims import Cause, Claim, ClaimSet, Unknown


def any_claims(seed: int) -> ClaimSet:
    """Up to 4 unknowns, 8 causes (some at no cost) and 9 claims.

    Three sorts in turn: claims of all kinds; agreeing claims about a state in which nothing holds; the same
    with an error or two.
    """
    rng = random.Random(seed)
    sort = ("any", "agreeing", "nearly agreeing")[seed % 3]
    unknowns = tuple(Unknown(f"u{n}", upper=rng.choice((1, 1, 2, 3))) for n in range(rng.randint(1, 4)))
    shifted = [
        Unknown(f"v{n}", *rng.choice(((2, 1), (0, -1), (1, -2)))) for n in range(rng.randint(0, 4) // 4)
    ]
    causes = tuple(
        Cause(
            f"c{n}",
            rng.choice(("look", "print")),
            cost=int(rng.random() > 0.1),
            chance=rng.choice((0.01, 0.02, 0.3)),
        )
        for n in range(rng.randint(1, 6) if sort == "any" else rng.randint(3, 8))
    )
    holders = tuple(u.id for u in rng.sample(unknowns, rng.randint(1, len(unknowns))))
    unknowns = (*unknowns, *shifted)
    truth = {u.id: rng.randint(u.lower, u.upper) for u in unknowns}
    if sort != "any":
        truth |= dict.fromkeys(holders, 0)
    most = 7 if sort == "any" else 9
    claims = tuple(_any_claim(rng, n, truth, causes, sort) for n in range(rng.randint(1, most)))
    return ClaimSet(unknowns, causes, claims, holders)


def _any_claim(
    rng: random.Random, number: int, truth: dict[str, int], causes: tuple[Cause, ...], sort: str
) -> Claim:
    chosen = rng.sample(sorted(truth), rng.randint(1, min(3, len(truth))))
    terms = tuple((name, rng.choice((1, 1, 1, 1, -1, 2, -2, 3))) for name in chosen)
    left = sum(coefficient * truth[name] for name, coefficient in terms)
    slips = {"any": (0, 0, 0, 1, -1), "agreeing": (0,), "nearly agreeing": (0, 0, 0, 0, 1)}[sort]
    blamed = rng.sample(
        causes, min(len(causes), rng.choice((0, 1, 1, 1, 2, 2, 3) if sort == "any" else (1, 1, 1, 2)))
    )
    return Claim(
        id=f"claim {number}",
        kind="any",
        terms=terms,
        sense=rng.choice(("=", "=", "=", "<=", ">=")),
        bound=left + rng.choice(slips),
        causes=tuple(cause.id for cause in blamed),
    )


def told_scene(seed: int) -> Scene:
    """A joint whose pieces are all out, told by people and papers who are now and then wrong."""
    rng = random.Random(seed)
    places = ("p1", "p2", "p3")[: rng.choice((1, 2, 2, 3))]
    line = Line("l1", "M8x55")

    def told(number: int) -> int:
        return max(0, number + rng.choice((0,) * 9 + (1, -1)))

    return Scene(
        places=places,
        lines=(line,),
        rows=tuple(
            Row(source, line.id, told(len(places)), lineage=source)
            for source in ("list", "table")[: rng.choice((1, 1, 2))]
        ),
        read_to_end=("list",) if rng.random() < 0.8 else (),
        steps=tuple(
            Step(
                f"s {place}",
                line.id,
                (place,),
                1,
                rng.choice(("done", "done", "not recorded")),
                rng.choice("AB"),
            )
            for place in places
            if rng.random() < 0.4
        ),
        looks=tuple(
            Look(person, place, rng.choice(("out",) * 9 + ("in", "open hole")), rng.random() < 0.1)
            for place in places
            for person in "AB"
            if rng.random() < 0.9
        ),
        rounds=tuple(person for person in "AB" if rng.random() < 0.9),
        counts=tuple(Count(person, "M8x55", told(len(places))) for person in "ABC" if rng.random() < 0.4),
        breaks=rng.random() < 0.05,
    )


def any_scene(seed: int) -> Scene:
    """A joint of one or two places, one or two lines, people who may all be wrong; sometimes at no cost."""
    rng = random.Random(seed)
    places = ("p1", "p2")[: rng.choice((1, 1, 2))]
    lines = (Line("l1", "M8x55"), Line("l2", rng.choice(("M8x55", "M8x70"))))[: rng.choice((1, 1, 1, 2))]
    people = ("A", "B")
    rows = tuple(
        Row(source, line.id, rng.randint(0, 2), tied=rng.random() < 0.7, lineage=rng.choice(("", "maker")))
        for source in ("list", "table")[: rng.choice((0, 1, 1, 2))]
        for line in lines
        if rng.random() < 0.8
    )
    steps = tuple(
        Step(
            "s1",
            rng.choice(lines).id,
            (place,),
            1,
            rng.choice(("done", "not recorded", "started")),
            rng.choice(people),
        )
        for place in places
        if rng.random() < 0.3
    )
    looks = tuple(
        Look(
            person,
            place,
            rng.choice(("out", "out", "out", "open hole", "nothing", "in")),
            rng.random() < 0.15,
        )
        for place in places
        for person in people
        if rng.random() < 0.6
    )
    counts = tuple(
        Count(rng.choice(people), kind, rng.randint(0, 2), rng.random() < 0.1)
        for kind in dict.fromkeys(line.kind for line in lines)
        if rng.random() < 0.7
    )
    return Scene(
        places=places,
        lines=lines,
        rows=rows,
        read_to_end=tuple(dict.fromkeys(row.source for row in rows if rng.random() < 0.5)),
        steps=tuple({step.id: step for step in steps}.values()),
        looks=looks,
        rounds=tuple(person for person in people if rng.random() < 0.5),
        counts=counts,
        breaks=rng.random() < 0.2,
    )


def joint_claims(seed: int) -> ClaimSet:
    """A random scene as claims (even seeds: `told_scene`); readings left open by the text are drawn."""
    rng = random.Random(f"reading {seed}")
    reading = Reading(
        broken_places=rng.random() < 0.7,
        tray_holds_other_work=rng.random() < 0.5,
        not_listed=rng.random() < 0.5,
    )
    return claims_of(any_scene(seed) if seed % 2 else told_scene(seed), reading)
