"""Everything about the way back of one plan: its lines, the account, the joints, what is done in one go."""

from collections.abc import Mapping, Sequence

from msgspec import Struct

from lastbolt.app.lengths_of_joint import heads_of
from lastbolt.app.make_back import make_back
from lastbolt.app.new_in import renewed_by
from lastbolt.app.refit_shown import boxes, stands_shown
from lastbolt.app.torque_map import torque_map
from lastbolt.app.wrench_shown import WrenchLine
from lastbolt.app.wrong_holes import wrong_holes
from lastbolt.refitting.account import account, not_closing
from lastbolt.refitting.closing import causes
from lastbolt.refitting.no_stop import no_stop_blocks
from lastbolt.words.account import Account
from lastbolt.words.back import Back
from lastbolt.words.back_watch import Cause, NoStop
from lastbolt.words.engine import Engine
from lastbolt.words.job import Job
from lastbolt.words.joint import Walk
from lastbolt.words.lengths import Odd
from lastbolt.words.machine import Machine
from lastbolt.words.plan import Plan
from lastbolt.words.torque_map import TorqueMap


class WayBackMade(Struct, frozen=True):
    """The way back of a plan, and where the job stands on it. `apart`: by joint, why it may not close, of
    those that would not. `sentence`: the answer, the largest thing on a screen or sheet."""

    back: Back
    account: Account
    no_stop: tuple[NoStop, ...]
    apart: Mapping[str, Sequence[Cause]]
    tightening: tuple[TorqueMap, ...]
    sentence: str
    renewed: tuple[str, ...] = ()
    """For each new part of the way back who put it in; "" where nobody did."""
    wrenches: tuple[WrenchLine, ...] = ()
    """For each torque what to set on which wrench; none where no wrench was told of."""
    adaptor: str = ""
    """How the adaptor on it stands, for these settings."""


def refit_joint(
    machine: Machine,
    plan: Plan,
    walks: Sequence[Walk] = (),
    engine: Engine | None = None,
    job: Job | None = None,
) -> WayBackMade:
    """The way back of a plan that `make_plan` made of the same machine, engine and job."""
    back = make_back(machine, plan, job)
    maps = tuple(torque_map(walk, plan, machine, engine, job) for walk in walks if walk.places)
    stand = account(plan, back, walks, engine, job, tuple(wrong_holes(maps, walks, job)))
    return WayBackMade(
        back,
        stand,
        no_stop_blocks(back.lines),
        {
            one.joint: causes(one.joint, stand, walks, engine, _odd(one.joint, walks, job))
            for one in not_closing(job)
        },
        maps,
        _sentence(back, stand, begun=job is not None),
        renewed_by(back.new_parts, job),
    )


def _odd(joint: str, walks: Sequence[Walk], job: Job | None) -> list[Odd]:
    return [odd for walk in walks if walk.joint == joint for odd in heads_of(walk, job)]


def _sentence(back: Back, stand: Account, begun: bool) -> str:
    confirm = sum(one.how == "proposed" for one in back.lines)
    if stand.finished:
        return f"{back.goal}: finished. Nothing is left over, missing, slack or left in."
    if begun:
        number = sum(len(some) for _, some in stands_shown(stand.stands))
        return f"{back.goal}: not finished: {number} thing{'' if number == 1 else 's'} to see to."
    ask = f", {confirm} of them only proposed: confirm these" if confirm else ""
    lines = boxes(back)
    return f"{back.goal}: back together in {lines} line{'' if lines == 1 else 's'}{ask}."
