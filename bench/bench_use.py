"""How many free joints the tally clears, how its explanations rank, in a made-up shop: `python -m bench use`.

Scenes and answers to checks come from tests/shop; every rate there is assumed, and none of this is a safety
figure. `python bench/bench_use.py 600` looks at more scenes.
"""

import sys
import time
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
sys.path[:0] = [str(ROOT), str(ROOT / "tests")]

from bench import ranking  # noqa: E402
from bench.bench_rate import Row, scenes  # noqa: E402
from bench.intervals import share_words  # noqa: E402
from bench.naive import everything_agrees, own_checks  # noqa: E402
from lastbolt.app.tally_joint import checked_account, next_steps  # noqa: E402
from lastbolt.tally.build import build_claims  # noqa: E402
from lastbolt.tally.build_people import scene_of  # noqa: E402
from lastbolt.tally.layout import layout_of, whole_kind  # noqa: E402
from lastbolt.tally.solve import Joint  # noqa: E402
from lastbolt.tally.spots import by_place  # noqa: E402
from lastbolt.words import claims as words  # noqa: E402
from lastbolt.words.answer import NextStep  # noqa: E402
from lastbolt.words.evidence import Evidence  # noqa: E402
from lastbolt.words.quantity import Kind  # noqa: E402
from law.judge import costs_of  # noqa: E402
from shop import Scene, Settings  # noqa: E402

MOST_CHECKS = 6
SETTINGS = words.Settings(seconds=5.0)
RODS = ("rod", "light", "depth", "ends")
"""Checks by which a rod, a light or both ends of a dowel are asked for: the shop's rod question."""
CHECKS = ("look", *RODS, "round", "count", "step")
"""The first word of a check's name; other next steps ask for work or for paper."""
OTHERS = ("second", "third")
"""Who may be called to look: people who were not there before."""
SHARE_OF_TIME = {"clearing": 0.7, "ranking": 0.3}


@dataclass
class Cleared:
    """Joints of one sort (free, or held) and how many each way of deciding cleared."""

    joints: int = 0
    cleared: Counter[str] = field(default_factory=Counter)
    checks: int = 0
    minutes: float = 0.0


AT_ONCE = "the tally, with no further check"
TALLY = f"the tally, after at most {MOST_CHECKS} of its next checks"
NAIVE = "the naive rule, on the same evidence"
NAIVE_OWN = f"the naive rule, after at most {MOST_CHECKS} checks of its own"
NAIVE_AT_ONCE = "the naive rule, with no further check"
ALL = "the tally, two more people having done everything"
WAYS = (AT_ONCE, NAIVE_AT_ONCE, TALLY, NAIVE, NAIVE_OWN, ALL)


def follow(scene: Scene, told: Cleared) -> None:
    """Let the tally ask until it says free or held, or has asked often enough; note who cleared the joint."""
    told.joints += 1
    told.cleared[NAIVE_AT_ONCE] += everything_agrees(scene.evidence)
    told.cleared[NAIVE_OWN] += naive_clears(scene)
    told.cleared[ALL] += told_free(everything(scene).evidence)
    done: Counter[str] = Counter()
    verdict, steps = look_at(scene.evidence)
    told.cleared[AT_ONCE] += verdict == "free"
    for _ in range(MOST_CHECKS):
        if verdict != "not shown" or not steps:
            break
        # Down the list: what was done already comes after what was not.
        step = min(steps, key=lambda step: done[step.check])
        done[step.check] += 1
        told.checks += 1
        told.minutes += step.effort_min
        scene = do(scene, step)
        verdict, steps = look_at(scene.evidence)
    told.cleared[TALLY] += verdict == "free"
    told.cleared[NAIVE] += everything_agrees(scene.evidence)


def everything(scene: Scene) -> Scene:
    """The scene after two more people went round, a rod was put to every place and every row counted."""
    second, third = OTHERS
    scene = scene.ask(second, "round").ask(third, "round")
    for place in scene.evidence.places:
        scene = scene.ask(third, "light", place=place.id)
    for kind in dict.fromkeys(line.kind for line in scene.evidence.lines):
        scene = scene.ask(second, "count", kind=kind)
    return scene


def told_free(evidence: Evidence) -> bool:
    """Whether the verdict is `free`, by costs alone."""
    return costs_of(build_claims(evidence)).told_free()


def look_at(evidence: Evidence) -> tuple[str, tuple[NextStep, ...]]:
    """Verdict and next steps, as the answer for people is made."""
    joint = Joint(build_claims(evidence), SETTINGS)
    account, _ = checked_account(evidence, joint)
    if account.verdict != "not shown":
        return account.verdict, ()
    found = by_place(scene_of(evidence, layout_of(evidence)), joint, account, SETTINGS)
    steps = next_steps(evidence, joint, account, found)
    return account.verdict, tuple(step for step in steps if step.check.partition(" ")[0] in CHECKS)


def do(scene: Scene, step: NextStep) -> Scene:
    """The scene after the next step was done, by somebody who has not done it yet."""
    for check in (step.check, *step.also):
        sort, _, about = check.partition(" ")
        if sort == "round":
            scene = scene.ask(_other(r.by for r in scene.evidence.rounds), "round")
        elif sort == "count":
            kind = _kind(scene.evidence, about)
            scene = scene.ask(
                _other(c.by for c in scene.evidence.counts if c.kind == kind), "count", kind=kind
            )
        else:
            places = (about,) if sort != "step" else _step_places(scene.evidence, about)
            for place in places:
                who = _other(look.by for look in scene.evidence.looks if look.place == place)
                scene = scene.ask(who, "light" if sort in RODS else "look", place=place)
    return scene


def naive_clears(scene: Scene) -> bool:
    """Whether the naive rule clears the joint at some point of its own checks."""
    for what, kind in list(own_checks(scene.evidence))[:MOST_CHECKS]:
        if everything_agrees(scene.evidence):
            return True
        scene = scene.ask(OTHERS[0], what, kind=kind)
    return everything_agrees(scene.evidence)


def _other(have: Iterable[str]) -> str:
    met = set(have)
    return next((who for who in OTHERS if who not in met), OTHERS[-1])


def _step_places(evidence: Evidence, step_id: str) -> tuple[str, ...]:
    return next(step.places for step in evidence.steps if step.id == step_id)


def _kind(evidence: Evidence, about: str) -> Kind:
    """The kind that a check's name stands for, as the evidence writes it."""
    e = evidence
    said: Iterator[Kind | None] = (
        item.kind for group in (e.lines, e.places, e.counts, e.steps, e.acts) for item in group
    )
    return next(kind for kind in said if kind is not None and whole_kind(kind).words() == about)


def clearing(seconds: float) -> dict[str, Cleared]:
    """Free and held joints in turn, each followed to its end, for about so many seconds."""
    told = {"free": Cleared(), "held": Cleared()}
    free, held = scenes(Settings(held=False), 10_000), scenes(Settings(held=True), 10_000)
    end = time.perf_counter() + seconds
    while time.perf_counter() < end:
        follow(next(free), told["free"])
        follow(next(held), told["held"])
    return told


def main(seconds: float = 90.0) -> list[Row]:
    """The rows of the table, in about so many seconds."""
    told = clearing(SHARE_OF_TIME["clearing"] * seconds)
    rows: list[Row] = []
    for sort, what in (("free", "free joints cleared"), ("held", "held joints cleared, wrongly")):
        one = told[sort]
        for way in WAYS:
            mark = "no zero promised" if sort == "held" and way == TALLY else ""
            rows.append((f"use: {what}: {way}", share_words(one.cleared[way], one.joints), "%", mark))
    free = told["free"]
    rows.append(("use: checks asked for, per free joint", f"{free.checks / max(1, free.joints):.1f}", "", ""))
    minutes = f"{free.minutes / max(1, free.joints):.1f}"
    rows.append(("use: time these checks take, per free joint (assumed)", minutes, "min", ""))
    return rows + ranking.rows(SHARE_OF_TIME["ranking"] * seconds)


if __name__ == "__main__":
    for row in main(float(sys.argv[1]) if len(sys.argv) > 1 else 90.0):
        print(*row, sep="  ")
