"""Whole scenes: what there is to go by, what is truly so, and which mistakes lie between the two."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from random import Random

from lastbolt.words.evidence import Evidence
from lastbolt.words.quantity import Kind

from .doing import Job
from .papers import Papers, note_engine, write_papers, write_places, write_steps_said
from .planning import choose_holders, name_people, plan_mistakes, settle_steps, write_steps
from .settings import REPEATABLE, ROOT_KINDS, SMALL, RootKind, Settings
from .timeline import run
from .world import State, build_world

DEEP: RootKind = "hole deeper than known"
DEALT = tuple(kind for kind in ROOT_KINDS if kind != DEEP)
JOINT = "gear case, upper to lower half"


@dataclass(frozen=True, slots=True)
class Root:
    """One mistake that happened, however many statements it spoils."""

    kind: RootKind
    subject: str


@dataclass(frozen=True, slots=True)
class PieceTruth:
    """One fastener. `place` None: it stands elsewhere on the machine. `lost`: out, but in no tray."""

    id: str
    kind: Kind
    actual: Kind
    line: str | None
    place: str | None
    by_design: bool
    fitted: bool
    lost: bool = False


@dataclass(frozen=True, slots=True)
class PlaceTruth:
    """One spot on the casting with its whole history: (moment, "in" | "slack" | "shank" | "empty")."""

    id: str
    form: str
    through: bool
    drilled: bool
    listed: bool
    history: tuple[tuple[int, State], ...]

    @property
    def state(self) -> State:
        """What is there in the end."""
        return self.history[-1][1]

    def state_at(self, moment: int) -> State:
        """What was there once everything at this moment had been done."""
        now = self.history[0][1]
        for when, state in self.history:
            if when <= moment:
                now = state
        return now


@dataclass(frozen=True, slots=True)
class Truth:
    """How it is. `holding`: (place or "unlisted", line or "unlisted kind"); `elsewhere_out`: pieces of
    partly tied lines taken out elsewhere, lying in this job's trays without anybody's mistake."""

    held: bool
    holding: tuple[tuple[str, str], ...]
    pieces: tuple[PieceTruth, ...]
    places: tuple[PlaceTruth, ...]
    tray_moves: tuple[tuple[int, str, Kind, str | None, str, int], ...]
    covers: tuple[tuple[str, tuple[str, ...]], ...]
    """Step -> the places that it truly covers, for every step of the manual."""


@dataclass(frozen=True, slots=True)
class Scene:
    """Evidence, the truth behind it, the mistakes between them, and what a glance overlooked."""

    evidence: Evidence
    truth: Truth
    roots: tuple[Root, ...]
    overlooked: tuple[tuple[str, str], ...]
    """(person, place): a glance that passed over what was there; costs nothing."""
    settings: Settings
    seed: int
    quiet: bool = False
    asked: int = 0

    def ask(self, person: str, what: str, place: str | None = None, kind: Kind | None = None) -> "Scene":
        """The same scene after one more look, round or count by this person; see asking.py."""
        from .asking import ask

        return ask(self, person, what, place, kind)


class NoSuchScene(Exception):
    """No world was found on which the wanted mistakes can happen."""


def simulate(seed: int, settings: Settings | None = None) -> Scene:
    """One scene; the same seed and settings always give the same scene.

    Raises:
        NoSuchScene: the settings contradict one another, or a small joint has no room for so many mistakes.
    """
    settings = settings or Settings()
    rng = Random(seed)
    for _ in range(400):
        job = Job(rng, settings, None, _wanted(rng, settings))  # type: ignore[arg-type]
        scene = _attempt(job, seed)
        if scene is not None:
            return scene
    raise NoSuchScene(f"seed {seed}: no such scene within 400 tries: {settings}")


def _wanted(rng: Random, settings: Settings) -> dict[str, int]:
    if settings.mistakes is None:
        return _wanted_by_rate(rng, settings)
    wanted: dict[str, int] = dict.fromkeys(settings.kinds[: settings.mistakes], 1)
    allowed = [kind for kind in DEALT if kind not in settings.without]
    while sum(wanted.values()) < settings.mistakes:
        kind = allowed[int(rng.random() * len(allowed))]
        if kind not in wanted or (kind in REPEATABLE and wanted[kind] < 2):
            wanted[kind] = wanted.get(kind, 0) + 1
    return wanted


def _wanted_by_rate(rng: Random, settings: Settings) -> dict[str, int]:
    rates = settings.rates
    places, people = sum(settings.places) // 2, max(sum(settings.people) // 2, 1)
    lines = min(settings.lines, places)
    chances = {
        "misprint": (rates.misprint, 2 * lines),
        "misreading": (rates.misreading, 3),
        "inherited misprint": (rates.inherited_misprint, lines),
        "row left out": (rates.row_left_out, 1),
        "line not wholly here": (rates.line_not_wholly_here, lines),
        "engine not as its papers": (rates.engine_not_as_its_papers, 1),
        "ticked, not done": (rates.ticked_not_done, lines),
        "done, not recorded": (rates.done_not_recorded, lines),
        "misjudged a place": (rates.misjudged_a_place, places * people),
        "did not look": (rates.did_not_look, people),
        "missed a place": (rates.missed_a_place * 0.15, people),
        "broken head": (rates.broken_head, places),
        "hole deeper than known": (rates.broken_head * rates.hole_deeper_than_known, places),
        "changed at a break": (rates.changed_at_a_break, 1),
        "miscounted": (rates.miscounted, lines),
        "tray mixed or short": (rates.tray_mixed_or_short, 1),
    }
    wanted = {}
    for kind, (rate, opportunities) in chances.items():
        if kind in settings.without:
            continue
        happens = 1 - (1 - rate) ** opportunities
        if rng.random() < happens:
            wanted[kind] = 1 + (kind in REPEATABLE and rng.random() < happens / 2)
    return wanted


def _attempt(job: Job, seed: int) -> Scene | None:
    job.world = build_world(job.rng, job.settings, job.wanted)
    if not choose_holders(job):
        return None
    write_steps(job)
    name_people(job)
    if not plan_mistakes(job):
        return None
    settle_steps(job)
    papers = write_papers(job)
    if papers is None:
        return None
    run(job)
    return _written_up(job, papers, seed)


def _written_up(job: Job, papers: Papers, seed: int) -> Scene | None:
    places = write_places(job, papers)
    steps = write_steps_said(job, papers)
    for step in job.steps:
        if step.fate == "unrecorded":
            job.hit("done, not recorded", step.id)
    note_engine(job, papers, places, steps)
    truth = _truth(job)
    wanted = job.settings.mistakes
    if (wanted is not None and len(job.hits) != wanted) or truth.held != job.held:
        return None
    present = {kind for kind, _ in job.hits}
    if wanted is not None and not present.issuperset(job.settings.kinds[:wanted]):
        return None
    evidence = Evidence(
        joint=JOINT,
        places=places,
        lines=tuple(papers.lines),
        lists=tuple(papers.lists),
        steps=steps,
        looks=tuple(job.looks),
        rounds=tuple(job.rounds),
        acts=tuple(job.acts),
        counts=tuple(job.counts),
        breaks=tuple(job.breaks),
        broken=tuple(sorted(_said_broken(job))),
        people=tuple((who, who.capitalize()) for who in job.people),
    )
    roots = tuple(Root(kind, subject) for kind, subject in job.hits)  # type: ignore[arg-type]
    return Scene(evidence, truth, roots, tuple(job.overlooked), job.settings, seed, job.quiet)


def _said_broken(job: Job) -> set[str]:
    """Places of which somebody rightly said that a shank is in, and where it still is."""
    shanks = {spot.id for spot in job.world.spots if spot.state == "shank"}
    return {look.place for look in job.looks if look.saw == "broken off" and look.place in shanks}


def _truth(job: Job) -> Truth:
    world = job.world
    listed_lines = {line.id for line in world.lines if line.listed}
    pieces = [spot.piece for spot in world.spots if spot.piece is not None]
    pieces += [piece for line in world.lines for piece in line.elsewhere]
    holding = []
    for spot in world.spots:
        if spot.holds and spot.piece is not None:
            line = spot.piece.line if spot.piece.line in listed_lines else None
            if spot.piece in world.extras and world.engine_known:
                line = "E1"
            holding.append((spot.id if spot.listed else "unlisted", line or "unlisted kind"))
    return Truth(
        bool(holding),
        tuple(holding),
        tuple(
            PieceTruth(p.id, p.kind, p.actual, p.line, p.place, p.by_design, p.fitted, p.id in world.lost)
            for p in pieces
        ),
        tuple(
            PlaceTruth(s.id, s.form, s.through, s.drilled, s.listed, tuple(s.history)) for s in world.spots
        ),
        tuple(world.tray_moves),
        tuple((step.id, tuple(spot.id for spot in step.covers)) for step in job.steps),
    )


def law_cases(n: int, seed: int, small: bool = False) -> Iterator[Scene]:
    """`n` scenes that judge a law: half held, 0 to 5 mistakes evenly, every kind of mistake often enough.

    Kinds are dealt in turn, so that the rare ones are not crowded out by those that fit everywhere.
    `small`: at most 4 places, 3 lines, quantities of at most 2, so that everything can be enumerated.
    """
    rng = Random(seed)
    dealt = able = 0
    for number in range(n):
        mistakes = number // 2 % 6
        base = SMALL if small else Settings()
        if not small and number % 25 == 24:
            base = replace(base, places=(13, 60), lines=10, people=(2, 5))
        kinds: tuple[RootKind, ...] = ()
        held = number % 2 == 0
        if held and mistakes >= 2:
            able += 1
        if held and mistakes >= 2 and able % 5 == 0:
            kinds = (DEEP, "broken head")  # it takes a broken head as well, and a joint still held
        elif mistakes:
            kinds = (DEALT[dealt % len(DEALT)],)
            dealt += 1
        yield _law_case(rng, replace(base, mistakes=mistakes, held=held, kinds=kinds))


def _law_case(rng: Random, settings: Settings) -> Scene:
    while True:
        try:
            return simulate(rng.getrandbits(48), settings)
        except NoSuchScene:
            settings = replace(settings, kinds=())
