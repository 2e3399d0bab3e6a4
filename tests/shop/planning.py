"""Before anything happens: what holds, who is there, which steps there are, which mistake befalls whom."""

from lastbolt.words.quantity import Kind

from .doing import Job, StepPlan
from .world import Spot

_HANDLED = frozenset({"broken head", "ticked, not done", "did not look", "changed at a break"})
"""Mistakes of the hand, which would befall a shank that everybody knows to be in."""

NAMES = ("ada", "bram", "cleo", "dov", "esme", "finn", "gita", "hugo")


def choose_holders(job: Job) -> bool:
    """Settle whether the joint stays held and by what; False if this world cannot serve."""
    rng, settings, world = job.rng, job.settings, job.world
    able = [spot for spot in world.spots if spot.holds]
    job.held = settings.held if settings.held is not None else rng.random() < 0.5
    if job.held and not able:
        return False
    if not job.held:
        return True
    job.quiet = settings.quiet if settings.quiet is not None else rng.random() < 0.65
    job.culprits = [_first_holder(job, able)]
    if not job.quiet and len(able) > 1 and rng.random() < 0.4:
        others = [spot for spot in able if spot not in job.culprits]
        job.culprits += rng.sample(others, min(len(others), 1 + int(rng.random() * 2)))
    first = job.culprits[0]
    if not job.quiet and first.listed and not _HANDLED & job.wanted.keys() and rng.random() < 0.2:
        first.becomes("shank", 0)
        job.known_shanks.add(first.id)
    return True


def _first_holder(job: Job, able: list[Spot]) -> Spot:
    rng, wanted = job.rng, job.wanted
    hidden = [spot for spot in able if not spot.listed]
    if hidden and ("missed a place" in wanted or rng.random() < 0.4):
        return hidden[0]
    if "row left out" in wanted and rng.random() < 0.7:
        unlisted = {line.id for line in job.world.lines if not line.listed}
        rowless = [spot for spot in able if spot.piece is not None and spot.piece.line in unlisted]
        if rowless:
            return rowless[int(rng.random() * len(rowless))]
    onmap = [spot for spot in able if spot.listed] or able
    return onmap[int(rng.random() * len(onmap))]


def write_steps(job: Job) -> None:
    """The manual's steps for this joint, with what each truly covers."""
    rng, world = job.rng, job.world
    needs = job.wanted.get("ticked, not done", 0) + ("done, not recorded" in job.wanted)
    own = [spot for spot in world.spots if spot.piece is not None and spot.piece.by_design]
    if not own:
        return
    if rng.random() < 0.05 and needs < 2:
        job.steps.append(StepPlan("S1", None, None, (), [s for s in world.spots if s.piece is not None]))
        return
    for line in world.lines:
        if not line.here or (rng.random() > 0.75 and not needs):
            continue
        halves = [line.here]
        if len(line.here) > 3 and rng.random() < 0.2 and all(spot.listed for spot in line.here):
            halves = [line.here[:2], line.here[2:]]
        for spots in halves:
            _write_step(job, line.id if line.listed else None, line.kind, spots, len(halves) > 1)


def _write_step(job: Job, line: str | None, kind: Kind, spots: list[Spot], part: bool) -> None:
    rng, id_ = job.rng, f"S{len(job.steps) + 1}"
    if any(spot in step.covers for step in job.steps for spot in spots):
        return
    onmap = [spot for spot in spots if spot.listed]
    style = rng.random()
    if onmap and (part or style < 0.35):
        job.steps.append(
            StepPlan(id_, line, kind if line is None else None, tuple(s.id for s in onmap), onmap)
        )
    elif line is not None and style < 0.85:
        job.steps.append(StepPlan(id_, line, None, (), list(spots)))
    elif not any(step.kind == kind and not step.places for step in job.steps):
        alike = [
            spot
            for spot in job.world.spots
            if spot.piece is not None and kind in (spot.piece.kind, spot.piece.actual)
        ]
        if not any(spot in step.covers for step in job.steps for spot in alike):
            job.steps.append(StepPlan(id_, None, kind, (), alike))


def name_people(job: Job) -> None:
    """Who is there, and which of them only say that they looked."""
    rng, (low, high) = job.rng, job.settings.people
    shams = job.wanted.get("did not look", 0)
    number = max(low + int(rng.random() * (high - low + 1)), 1)
    if job.quiet:
        number = max(number, min(job.wanted.get("misjudged a place", 0), 3))
    job.people = list(NAMES[: min(number + shams, len(NAMES))])
    rng.shuffle(job.people)
    job.sham = set(job.people[:shams])
    job.real = job.people[shams:]


def plan_mistakes(job: Job) -> bool:
    """Settle whom and what each wanted mistake befalls; False if one of them cannot happen here."""
    planners = (
        ("hole deeper than known", _plan_deep),
        ("broken head", _plan_broken),
        ("ticked, not done", _plan_ticked),
        ("done, not recorded", _plan_unrecorded),
        ("misjudged a place", _plan_misjudged),
        ("missed a place", _plan_missed),
        ("changed at a break", _plan_change),
        ("tray mixed or short", _plan_tray),
        ("miscounted", _plan_miscounted),
    )
    return all(
        planner(job) for kind, planner in planners if kind in job.wanted for _ in range(job.wanted[kind])
    )


def _plan_broken(job: Job) -> bool:
    able = [spot for spot in job.world.spots if spot.holds and spot.listed and spot.id not in job.to_break]
    able = [spot for spot in able if spot.id in job.deep_holes] or able
    aimed = [spot for spot in able if spot in job.culprits]
    pool = aimed if aimed and (job.quiet or job.rng.random() < 0.6) else able
    if not pool:
        return False
    job.to_break.add(pool[int(job.rng.random() * len(pool))].id)
    return True


def _plan_deep(job: Job) -> bool:
    """A screw breaks off in a blind hole that is deeper than anybody thinks, and a rod is put to it."""
    if "broken head" not in job.wanted:
        return False
    able = [spot for spot in job.world.spots if spot.form == "blind screw" and spot.holds and spot.listed]
    aimed = [spot for spot in able if spot in job.culprits]
    pool = aimed or ([] if job.held else able)
    if not pool:
        return False
    spot = pool[int(job.rng.random() * len(pool))]
    job.deep_holes.add(spot.id)
    job.must_look.append((0, job.real[0], spot.id))
    return True


def _plan_ticked(job: Job) -> bool:
    able = [
        step
        for step in job.steps
        if step.fate == "done"
        and any(s.holds and s.listed and s.id not in job.to_break for s in step.covers)
        and (not job.held or any(s in job.culprits and s.id not in job.to_break for s in step.covers))
    ]
    if not able:
        return False
    able[int(job.rng.random() * len(able))].fate = "ticked"
    return True


def _plan_unrecorded(job: Job) -> bool:
    able = [
        step
        for step in job.steps
        if step.fate == "done"
        and any(spot.holds for spot in step.covers)
        and not any(spot in job.culprits or spot.id in job.to_break for spot in step.covers)
    ]
    if not able:
        return False
    able[int(job.rng.random() * len(able))].fate = "unrecorded"
    return True


def _plan_misjudged(job: Job) -> bool:
    spots = [spot for spot in job.world.spots if spot.listed and spot.id not in job.to_break]
    aimed = [spot for spot in spots if spot in job.culprits]
    for pool in (aimed, spots) if job.held else (spots,):
        pairs = [(who, s.id) for who in job.real for s in pool if (who, s.id) not in job.misjudge]
        if pairs:
            pair = pairs[int(job.rng.random() * len(pairs))]
            job.misjudge.add(pair)
            job.must_look.append((0, *pair))
            return True
    return False


def _plan_missed(job: Job) -> bool:
    if not job.world.hidden():
        return False
    job.missers.add(job.real[0])
    return True


def _plan_change(job: Job) -> bool:
    onmap = [
        spot
        for spot in job.world.spots
        if spot.listed and spot.holds and spot.id not in job.to_break and spot not in job.culprits
    ]
    aimed = [spot for spot in job.culprits if spot.listed and spot.id not in job.to_break]
    aimed = [s for s in aimed if not any(step.fate == "ticked" and s in step.covers for step in job.steps)]
    pool = aimed if aimed and job.rng.random() < 0.9 else onmap
    if not pool:
        return False
    job.change = pool[int(job.rng.random() * len(pool))]
    job.must_look.append((1, job.real[int(job.rng.random() * len(job.real))], job.change.id))
    return True


def _plan_tray(job: Job) -> bool:
    kind = _a_kind(job)
    if kind is None:
        return False
    mixed = job.quiet or job.rng.random() < 0.5
    job.bad_tray = (job.rng.choice(job.world.trays), kind, 1 if mixed else -1)
    return True


def _plan_miscounted(job: Job) -> bool:
    kind = _a_kind(job)
    pairs = [(who, kind) for who in job.real if kind is not None and (who, kind) not in job.miscount]
    if not pairs:
        return False
    who, kind_ = pairs[int(job.rng.random() * len(pairs))]
    assert kind_ is not None
    job.miscount.add((who, kind_))
    return True


def _a_kind(job: Job) -> Kind | None:
    aimed = [spot.piece.actual for spot in job.culprits if spot.piece is not None]
    if job.quiet and aimed:
        return aimed[0]
    kinds = [spot.piece.actual for spot in job.world.spots if spot.piece is not None and spot.piece.fitted]
    return kinds[int(job.rng.random() * len(kinds))] if kinds else None


def settle_steps(job: Job) -> None:
    """Give each step left over its fate, its phase and its person; a quiet scene drops those that tell."""
    rng = job.rng
    for step in job.steps:
        step.by = rng.choice(job.real)
        step.phase = 1 if rng.random() < 0.7 else 2
        guilty = [
            s for s in step.covers if s in job.culprits and s.id not in job.to_break and s is not job.change
        ]
        if step.fate == "done" and job.sham and rng.random() < 0.3:
            step.by = sorted(job.sham)[0]
        skipped = step.by in job.sham
        if job.change is not None and job.change in step.covers and job.change in job.culprits:
            step.phase, skipped = 1, False
            step.by = step.by if step.by in job.real else job.real[0]
        if step.fate != "done":
            continue
        if guilty and not skipped:
            _settle_guilty(job, step)
        elif not guilty and rng.random() < 0.2 and not job.to_break:
            step.fate = (
                "started" if rng.random() < 0.5 or not _all_can_be_recorded(job, step) else "not recorded"
            )


def _settle_guilty(job: Job, step: StepPlan) -> None:
    step.written = not job.quiet or job.rng.random() < 0.1
    unsaid = job.rng.random() < 0.6 and _all_can_be_recorded(job, step)
    step.fate = "not recorded" if unsaid else "started"


def _all_can_be_recorded(job: Job, step: StepPlan) -> bool:
    return all(spot.listed or spot in job.culprits for spot in step.covers)
