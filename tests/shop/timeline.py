"""The day at the bench: before it began, first shift, perhaps a break, second shift."""

from lastbolt.words.evidence import Break

from .doing import (
    Job,
    act_out,
    count_kind,
    glance,
    go_round,
    look_at,
    put_back_and_out,
    put_in,
    take_out,
    tick,
)
from .world import Spot


def run(job: Job) -> None:
    """Let the whole job happen, in the order of moments."""
    two_shifts = job.change is not None or job.rng.random() < 0.3
    _before(job)
    shift_of = {who: 1 if job.change or job.rng.random() < 0.6 else 2 for who in job.people}
    if not two_shifts:
        shift_of = dict.fromkeys(job.people, 1)
    _early(job)
    for shift in (1, 2) if two_shifts else (1,):
        if shift == 2:
            job.breaks.append(Break(job.now(), "midday break"))
            _change(job)
        _work(job, shift, last=shift == 2 or not two_shifts)
        for who in job.people:
            if shift_of[who] == shift or (shift == 2 and job.rng.random() < 0.25):
                _look_round(job, who)
        _due_looks(job, shift, shift == 2 or not two_shifts)
        for who in job.people:
            if shift_of[who] == shift:
                _count(job, who)
    _due_counts(job)


def _before(job: Job) -> None:
    rng, world = job.rng, job.world
    if job.bad_tray and job.bad_tray[2] > 0:
        tray, kind, change = job.bad_tray
        world.foreign.append((tray, kind))
        world.tray_moves.append((0, tray, kind, None, "whole", change))
    for line in world.lines:
        for piece in line.elsewhere:
            if rng.random() < job.settings.elsewhere_in_trays:
                world.tray_moves.append((0, world.trays[0], piece.actual, piece.line, "whole", 1))
    stepped = {spot.id for step in job.steps if step.written for spot in step.covers}
    for spot in world.spots:
        if not spot.holds or (spot in job.culprits and spot.id not in job.to_break):
            continue
        unrecorded = any(step.fate == "unrecorded" and spot in step.covers for step in job.steps)
        loose = spot.id not in stepped and spot is not job.change and rng.random() < 0.35
        if not spot.listed or unrecorded or loose:
            take_out(job, spot, 0)


def _early(job: Job) -> None:
    if not job.held:
        for who in sorted(job.sham):
            go_round(job, who)
    if not job.quiet and job.rng.random() < 0.2:
        who = job.real[0]
        if job.rng.random() < 0.5:
            glance(job, who)
        else:
            for spot in job.world.spots:
                if spot.listed and (who, spot.id) not in job.misjudge:
                    look_at(job, who, spot, job.now())


def _change(job: Job) -> None:
    spot = job.change
    if spot is None:
        return
    moment = job.breaks[-1].moment
    about = any(
        look.place == spot.id and look.saw != "cannot see" and look.by in job.real for look in job.looks
    )
    if spot.state == "empty" and spot.piece is not None and spot.piece.id not in job.world.lost:
        about = about or any(act.place == spot.id for act in job.acts)
        about = about or any(
            s.moment and s.fate == "done" and spot in s.covers and s.written for s in job.steps
        )
        put_in(job, spot, moment)
    elif spot.holds and spot not in job.culprits:
        take_out(job, spot, moment)
    else:
        return
    if about:
        job.hit("changed at a break", "this joint")


def _work(job: Job, shift: int, last: bool) -> None:
    rng = job.rng
    for step in job.steps:
        if (
            step.written
            and step.fate in ("done", "ticked")
            and (step.phase == shift or (last and not step.moment))
        ):
            tick(job, step)
        elif step.fate == "started" and shift == 1:
            for spot in step.covers:
                if spot not in job.culprits and rng.random() < 0.7:
                    take_out(job, spot, job.now())
    for spot in job.world.spots:
        if not spot.holds or not spot.listed:
            continue
        if spot is job.change and shift == 1 and spot in job.culprits:
            act_out(job, rng.choice(job.real), spot)
        elif not _stays(job, spot, shift) and (last or (spot is not job.change and rng.random() < 0.3)):
            act_out(job, rng.choice(job.real), spot)
            if spot.state == "empty" and rng.random() < 0.03 and not job.bad_tray:
                put_back_and_out(job, rng.choice(job.real), spot)
            if spot.holds and not _stays(job, spot, shift) and last:
                _due_looks_at(job, spot)
                act_out(job, rng.choice(job.real), spot)


def _stays(job: Job, spot: Spot, shift: int) -> bool:
    if spot not in job.culprits:
        return False
    return spot.id not in job.to_break or spot.state == "shank"


def _due_looks_at(job: Job, spot: Spot) -> None:
    if job.rng.random() < 0.5:
        look_at(job, job.real[0], spot, job.now())


def _look_round(job: Job, who: str) -> None:
    dice = job.rng.random()
    if who in job.sham or who in job.missers or dice < 0.5:
        go_round(job, who)
    elif dice < 0.75:
        glance(job, who)
    else:
        moment = job.now()
        for spot in job.world.spots:
            if spot.listed and job.rng.random() < 0.4:
                look_at(job, who, spot, moment)


def _due_looks(job: Job, shift: int, last: bool) -> None:
    for when, who, place in job.must_look:
        if when == shift or (when == 0 and last):
            if any(look.by == who and look.place == place and look.guided for look in job.looks):
                continue
            spot = next(spot for spot in job.world.spots if spot.id == place)
            if spot.listed:
                look_at(job, who, spot, job.now())


def _count(job: Job, who: str) -> None:
    if job.rng.random() < 0.4:
        return
    kinds = []
    for spot in job.world.spots:
        if spot.piece is not None and spot.piece.fitted and spot.piece.actual not in kinds:
            kinds.append(spot.piece.actual)
    for kind in kinds:
        if job.rng.random() < 0.6:
            count_kind(job, who, kind)


def _due_counts(job: Job) -> None:
    due = sorted(job.miscount, key=lambda pair: (pair[0], pair[1].words()))
    if job.bad_tray:
        due.append((job.real[-1], job.bad_tray[1]))
    for who, kind in due:
        if not any(count.by == who and count.kind == kind for count in job.counts):
            count_kind(job, who, kind)
