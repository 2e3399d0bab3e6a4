"""What hands do and people say at the bench: take out, put back, look, count, tick; rightly or not."""

from dataclasses import dataclass, field
from random import Random

from lastbolt.words.evidence import Act, Break, Look, RoundMade, TrayCount
from lastbolt.words.joint import Saw
from lastbolt.words.quantity import Kind

from .settings import Settings
from .world import TAKES_FASTENER, Spot, World

Hit = tuple[str, str]
"""A root: its kind and its subject."""

REVEALS = frozenset({"in", "slack", "broken off", "hollow dowel, bolt in"})
_EXPECTED_SAW: dict[str, Saw] = {
    "empty boss": "nothing here",
    "solid dowel": "solid dowel",
    "hollow dowel": "hollow dowel, empty",
}


@dataclass(slots=True)
class StepPlan:
    """A step of the manual, what it truly covers, and what becomes of it."""

    id: str
    line: str | None
    kind: Kind | None
    places: tuple[str, ...]
    covers: list[Spot]
    fate: str = "done"
    by: str = ""
    phase: int = 1
    moment: int = 0
    written: bool = True


@dataclass(slots=True)
class Job:
    """One scene in the making: the world, the plan of mistakes, and what has been said so far."""

    rng: Random
    settings: Settings
    world: World
    wanted: dict[str, int]
    held: bool = False
    quiet: bool = False
    culprits: list[Spot] = field(default_factory=list)
    steps: list[StepPlan] = field(default_factory=list)
    people: list[str] = field(default_factory=list)
    real: list[str] = field(default_factory=list)
    sham: set[str] = field(default_factory=set)
    misjudge: set[tuple[str, str]] = field(default_factory=set)
    to_break: set[str] = field(default_factory=set)
    missers: set[str] = field(default_factory=set)
    deep_holes: set[str] = field(default_factory=set)
    """Blind holes deeper than people think: there a rod beside a deep shank goes as far as they expect."""
    known_shanks: set[str] = field(default_factory=set)
    miscount: set[tuple[str, Kind]] = field(default_factory=set)
    bad_tray: tuple[str, Kind, int] | None = None
    change: Spot | None = None
    change_made: str = ""
    must_look: list[tuple[int, str, str]] = field(default_factory=list)
    apparent: dict[Kind, int] = field(default_factory=dict)
    moment: int = 0
    looks: list[Look] = field(default_factory=list)
    rounds: list[RoundMade] = field(default_factory=list)
    acts: list[Act] = field(default_factory=list)
    counts: list[TrayCount] = field(default_factory=list)
    breaks: list[Break] = field(default_factory=list)
    hits: dict[Hit, int] = field(default_factory=dict)
    overlooked: list[tuple[str, str]] = field(default_factory=list)

    def now(self) -> int:
        """The next moment."""
        self.moment += 1
        return self.moment

    def hit(self, kind: str, subject: str) -> None:
        """Note that this root spoilt a statement."""
        key = (kind, subject)
        self.hits[key] = self.hits.get(key, 0) + 1


def take_out(job: Job, spot: Spot, moment: int) -> None:
    """Take the fastener out of a spot; its head may break off and leave the shank in."""
    if spot.state == "empty":
        return
    world, piece = job.world, spot.piece
    assert piece is not None
    if spot.tray is None:
        spot.tray = world.trays[0] if len(world.trays) == 1 else job.rng.choice(world.trays)
    move = (spot.tray, piece.actual, piece.line)
    if spot.id in job.to_break and spot.state != "shank":
        spot.becomes("shank", moment)
        world.tray_moves.append((moment, *move, "head", 1))
        return
    if spot.state == "shank":
        world.tray_moves.append((moment, *move, "head", -1))
    spot.becomes("empty", moment)
    bad = job.bad_tray
    if bad and bad[2] < 0 and bad[1] == piece.actual and bad[0] == spot.tray and not world.lost:
        world.lost.append(piece.id)
        return
    world.tray_moves.append((moment, *move, "whole", 1))


def put_in(job: Job, spot: Spot, moment: int) -> None:
    """Put the spot's own piece back from its tray."""
    piece = spot.piece
    assert piece is not None
    assert spot.tray is not None
    spot.becomes("in", moment)
    job.world.tray_moves.append((moment, spot.tray, piece.actual, piece.line, "whole", -1))


def true_answers(spot: Spot) -> list[Saw]:
    """What somebody who looks properly may say of a spot now, likeliest first."""
    if spot.state == "in":
        return ["hollow dowel, bolt in"] if spot.form == "bolted dowel" else ["in"]
    if spot.state == "slack":
        return ["slack"]
    if spot.state == "shank":
        return ["broken off"]
    if spot.form == "bolted dowel":
        return ["hollow dowel, empty", "light through", "out"]
    if spot.piece is not None:
        return ["out", "open hole", *probed_answers(spot)]
    if spot.form == "empty boss":
        return ["nothing here", "open hole"] if spot.drilled else ["nothing here"]
    if spot.form == "hollow dowel":
        return ["hollow dowel, empty", "light through"]
    return ["solid dowel", *probed_answers(spot)]


def probed_answers(spot: Spot) -> list[Saw]:
    """What a rod, a lamp or a look at both ends may truly add to a look at this spot, likeliest first.

    A rod through a hole that goes through; a rod to the known depth of a blind one; both ends of a solid
    dowel. A shank, however deep, stops the rod short; a closed boss and a bolt in its hole take none.
    """
    if spot.form == "solid dowel":
        return ["solid dowel, both ends"]
    if spot.state != "empty" or spot.form in ("empty boss", "stud"):
        return []
    return ["light through"] if spot.through else ["rod to the bottom"]


def wrong_probe(rng: Random, spot: Spot) -> Saw:
    """Something untrue that somebody with a rod might yet say of this spot.

    The rod of a short look stands on a shank and is taken to stand on the bottom; that is told more often
    than a slip of the tongue. Where nothing is, the rod stuck in dirt is taken for a shank.
    """
    if spot.form in ("solid dowel", "empty boss") and spot.state == "empty":
        return wrong_answer(rng, spot)
    if spot.state == "empty":
        return wrong_answer(rng, spot) if spot.form == "hollow dowel" else "broken off"
    if rng.random() < 0.6 and spot.form != "stud":
        return "light through" if spot.through else "rod to the bottom"
    return wrong_answer(rng, spot)


def wrong_answer(rng: Random, spot: Spot) -> Saw:
    """Something untrue that somebody might yet say of this spot."""
    if spot.state != "empty":
        pool: list[Saw] = ["out", "out", "out", "nothing here", "nothing here", "open hole", "solid dowel"]
        if spot.form == "bolted dowel":
            pool = ["hollow dowel, empty", "hollow dowel, empty", "solid dowel", "out"]
        elif spot.form != "stud":
            pool.append("light through" if spot.through else "rod to the bottom")
    elif spot.piece is not None:
        pool = ["in", "in", "in", "nothing here", "broken off"]
    elif spot.form == "empty boss":
        pool = ["in", "out"]
    else:
        pool = ["in", "hollow dowel, bolt in"] if spot.form == "hollow dowel" else ["in", "nothing here"]
    return pool[int(rng.random() * len(pool))]


def _plain_answer(rng: Random, spot: Spot) -> Saw:
    answers = true_answers(spot)
    if len(answers) == 1 or rng.random() < 0.7:
        return answers[0]
    return answers[int(rng.random() * len(answers))]


def answer(job: Job, who: str, spot: Spot) -> tuple[Saw, Hit | None]:
    """What this person says of this spot when asked, and the root that spoils it, if any does."""
    rng = job.rng
    if who in job.sham:
        saw: Saw = _EXPECTED_SAW.get(spot.form, "out") if rng.random() < 0.92 else wrong_answer(rng, spot)
        if spot.form == "empty boss" and spot.piece is not None:
            saw = "nothing here"
        return saw, (None if saw in true_answers(spot) else ("did not look", who))
    if (who, spot.id) in job.misjudge:
        return wrong_answer(rng, spot), ("misjudged a place", f"{who} at {spot.id}")
    if spot.state == "shank" and (spot.id in job.known_shanks or (not job.quiet and rng.random() < 0.1)):
        return "broken off", None
    if spot.state == "shank" and spot.id in job.deep_holes and rng.random() < 0.7:
        return "rod to the bottom", ("hole deeper than known", spot.id)
    if spot.state == "shank":
        deep = job.settings.broken_fools_open_hole and rng.random() < 0.3
        return "open hole" if deep else "out", ("broken head", spot.id)
    if rng.random() < 0.04:
        return "cannot see", None
    return _plain_answer(rng, spot), None


def look_at(job: Job, who: str, spot: Spot, moment: int) -> bool:
    """Record a guided look unless a quiet scene's holder would show; whether it was recorded."""
    saw, root = answer(job, who, spot)
    if job.quiet and root is None and saw in REVEALS and spot in job.culprits:
        return False
    if root is not None:
        job.hit(*root)
    job.looks.append(Look(who, spot.id, saw, True, moment))
    return True


def go_round(job: Job, who: str) -> None:
    """Guided, place by place; then the claim that there is no further place, if that may be said here."""
    moment, whole = job.now(), True
    for spot in job.world.spots:
        if spot.listed:
            whole = look_at(job, who, spot, moment) and whole
    hidden = job.world.hidden()
    if not whole or (hidden and who not in job.missers and who not in job.sham):
        return
    job.rounds.append(RoundMade(who, moment))
    if hidden and who in job.sham:
        job.hit("did not look", who)
    elif hidden:
        job.hit("missed a place", f"{who}, not listed: {hidden[0].id}")


def glance(job: Job, who: str) -> None:
    """Unguided: sees by habit a part of what is there and reports that rightly; the rest is overlooked."""
    rng, moment = job.rng, job.now()
    for spot in job.world.spots:
        if not spot.listed:
            continue
        if spot.state == "empty":
            if rng.random() < 0.5:
                job.looks.append(Look(who, spot.id, true_answers(spot)[0], False, moment))
        elif spot.state != "shank" and rng.random() < job.settings.rates.glance_sees:
            if not (job.quiet and spot in job.culprits):
                job.looks.append(Look(who, spot.id, true_answers(spot)[0], False, moment))
        elif rng.random() < 0.5:
            saw: Saw = "out" if rng.random() < 0.7 or spot.state == "shank" else "nothing here"
            job.looks.append(Look(who, spot.id, saw, False, moment))
            job.overlooked.append((who, spot.id))


def act_out(job: Job, who: str, spot: Spot) -> None:
    """Take out and record it at the place."""
    moment, named = job.now(), job.rng.random() < 0.5
    take_out(job, spot, moment)
    if spot.state == "shank":
        job.hit("broken head", spot.id)
    piece = spot.piece
    assert piece is not None
    line = piece.line if named and _in_evidence(job, piece.line) else None
    job.acts.append(Act(who, spot.id, "took out", moment, line=line, kind=piece.actual if named else None))


def put_back_and_out(job: Job, who: str, spot: Spot) -> None:
    """Put a fastener back to steady the joint, recorded, and take it out again, recorded."""
    moment = job.now()
    put_in(job, spot, moment)
    job.acts.append(Act(who, spot.id, "put in", moment))
    act_out(job, who, spot)


def _in_evidence(job: Job, line: str | None) -> bool:
    return any(line == true.id and true.listed for true in job.world.lines)


def tick(job: Job, step: StepPlan) -> None:
    """Do the step, or not, and record it as done."""
    moment = step.moment = job.now()
    skips = step.fate == "ticked" or step.by in job.sham
    skipped = [
        spot for spot in step.covers if skips and spot.holds and (spot in job.culprits or not job.held)
    ]
    for spot in step.covers:
        if spot not in skipped:
            take_out(job, spot, moment)
    for spot in step.covers:
        if spot.state == "shank":
            job.hit("broken head", spot.id)
        elif spot.holds and step.by in job.sham:
            job.hit("did not look", step.by)
        elif spot.holds:
            job.hit("ticked, not done", step.id)


def count_kind(job: Job, who: str, kind: Kind) -> None:
    """Count the pieces of one kind in the trays and say the number; rightly or not."""
    rng, world = job.rng, job.world
    complete = rng.random() < 0.85 or job.bad_tray is not None
    tray = "" if len(world.trays) == 1 or rng.random() < 0.8 else world.trays[int(rng.random() * 2)]
    if job.bad_tray and job.bad_tray[1] == kind and tray:
        tray = job.bad_tray[0]
    owners = [line for line in world.lines if line.kind == kind]
    line = owners[0].id if len(owners) == 1 and owners[0].listed and rng.random() < 0.4 else None
    if world.foreign or any(extra.actual == kind for extra in world.extras):
        line = None  # nobody at the tray can tell one piece of a size from another
    true = world.in_trays(kind, line, tray, complete)
    said, root = _number_said(job, who, kind, true)
    tells = _tray_told(job, kind, tray)
    guilty = any(spot.piece is not None and spot.piece.kind == kind for spot in job.culprits)
    if job.quiet and guilty and root is None and said != job.apparent.get(kind, said):
        return
    if root is not None:
        job.hit(*root)
    elif tells is not None:
        job.hit(*tells)
    job.counts.append(
        TrayCount(who, kind, said, job.now(), line, complete_pieces=complete, all_trays=not tray, tray=tray)
    )


def _tray_told(job: Job, kind: Kind, tray: str) -> Hit | None:
    bad = job.bad_tray
    if bad is None or bad[1] != kind or tray not in ("", bad[0]):
        return None
    happened = job.world.foreign if bad[2] > 0 else job.world.lost
    return ("tray mixed or short", bad[0]) if happened else None


def _number_said(job: Job, who: str, kind: Kind, true: int) -> tuple[int, Hit | None]:
    if who in job.sham:
        said = job.apparent.get(kind, true)
        return said, (("did not look", who) if said != true else None)
    if (who, kind) in job.miscount:
        want = job.apparent.get(kind)
        up = (want is not None and want > true) or true == 0 or (not job.quiet and job.rng.random() < 0.5)
        return (true + 1 if up else true - 1), (
            "miscounted",
            f"{who}, {kind.words()}, moment {job.moment + 1}",
        )
    return true, None


def takes_fastener(spot: Spot) -> bool:
    """Whether a fastener goes here by design or was ever put here."""
    return spot.form in TAKES_FASTENER or spot.piece is not None
