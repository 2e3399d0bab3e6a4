"""From the evidence about one joint to the answer people read.

`free` is never handed on before a second program, which shares no code with the solver, has added up its
certificate.
"""

from msgspec.structs import replace

from lastbolt.tally.build import build_claims
from lastbolt.tally.checker import reasons_not_verified
from lastbolt.tally.checks import Proposal, propose_checks
from lastbolt.tally.layout import ELSEWHERE, NOWHERE_LISTED
from lastbolt.tally.problems import certificate_refused, reserved_place
from lastbolt.tally.solve import solve
from lastbolt.tally.wording import Beside, word_answer
from lastbolt.words.answer import Answer, NextStep
from lastbolt.words.claims import Account, ClaimSet, Settings
from lastbolt.words.evidence import Evidence
from lastbolt.words.problem import Problem

MOST_STEPS = 5
MOST_TRIED = 16
FALL_BACK = 3
SECONDS_A_TRY = 2.0


def tally_joint(evidence: Evidence, beside: Beside | None = None, settings: Settings | None = None) -> Answer:
    """The answer about this joint: verdict, sentence, next steps, suspicions, certificate."""
    beside, settings = beside or Beside(), settings or Settings()
    claims = build_claims(evidence)
    found, problems = checked_account(evidence, claims, settings)
    steps = next_steps(evidence, claims, found, settings) if found.verdict != "free" else ()
    open_holders = [holder for holder in beside.holders if not holder.settled]
    steps += tuple(NextStep(f"Check {holder.name}: {holder.words}", 0.5) for holder in open_holders)
    told = replace(beside, next_steps=(*beside.next_steps, *steps), problems=(*beside.problems, *problems))
    return word_answer(evidence, claims, found, told)


def checked_account(
    evidence: Evidence, claims: ClaimSet, settings: Settings
) -> tuple[Account, tuple[Problem, ...]]:
    """The solver's account, with `free` taken back unless its certificate is accepted."""
    reserved = [place.id for place in evidence.places if place.id in (NOWHERE_LISTED, ELSEWHERE)]
    found = solve(claims, settings)
    problems: list[Problem] = [reserved_place(place) for place in reserved]
    if found.verdict == "free":
        if found.certificate is None:
            reasons = ["there is none"]
        else:
            reasons = reasons_not_verified(claims, settings, found.certificate)
        problems += [certificate_refused(reasons)] if reasons else []
    if problems:
        limits = (*found.limits, *(problem.what for problem in problems))
        found = replace(found, verdict="not shown", certificate=None, limits=limits)
    return found, tuple(problems)


def next_steps(
    evidence: Evidence, claims: ClaimSet, found: Account, settings: Settings
) -> tuple[NextStep, ...]:
    """The next checks, those that would gain most margin per minute first."""
    quick = replace(settings, seconds=min(settings.seconds, SECONDS_A_TRY), groups=1)
    tried = [
        (proposal, _margin_if(proposal, claims, quick))
        for proposal in propose_checks(evidence, found)[:MOST_TRIED]
    ]
    now = found.margin if found.margin is not None else -1

    def worth(pair: tuple[Proposal, int | None]) -> float:
        proposal, margin = pair
        gain = -1 if margin is None else margin - now
        return -gain / proposal.check.effort_min if gain > 0 else proposal.check.effort_min

    gaining = [pair for pair in tried if pair[1] is not None and pair[1] > now]
    ordered = sorted(gaining or tried[:FALL_BACK], key=worth)
    return tuple(
        NextStep(proposal.check.words, proposal.check.effort_min, proposal.check.id, margin)
        for proposal, margin in ordered[:MOST_STEPS]
    )


def _margin_if(proposal: Proposal, claims: ClaimSet, settings: Settings) -> int | None:
    """The margin if the check finds nothing amiss."""
    answer = next(one for one in proposal.check.answers if one.id == proposal.agrees)
    known = {cause.id for cause in claims.causes}
    more = tuple(cause for cause in answer.causes if cause.id not in known)
    wider = replace(claims, causes=(*claims.causes, *more), claims=(*claims.claims, *answer.claims))
    return solve(wider, settings).margin
