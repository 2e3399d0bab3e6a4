"""From the evidence about one joint to the answer people read.

`free` is never handed on before a second program, which shares no code with the solver, has added up its
certificate.
"""

from msgspec.structs import replace

from lastbolt.tally.build import build_claims
from lastbolt.tally.build_people import scene_of
from lastbolt.tally.checker import reasons_not_verified
from lastbolt.tally.checks import propose_checks
from lastbolt.tally.layout import ELSEWHERE, NOWHERE_LISTED, layout_of
from lastbolt.tally.next_check import advise
from lastbolt.tally.problems import certificate_refused, reserved_place
from lastbolt.tally.solve import solve
from lastbolt.tally.spots import by_place
from lastbolt.tally.wording import Beside, word_answer
from lastbolt.words.answer import Answer, NextStep
from lastbolt.words.claims import Account, ClaimSet, Settings
from lastbolt.words.evidence import Evidence
from lastbolt.words.problem import Problem

MOST_STEPS = 5
SECONDS = 2.0


def tally_joint(evidence: Evidence, beside: Beside | None = None, settings: Settings | None = None) -> Answer:
    """The answer about this joint: verdict, sentence, next steps, suspicions, certificate."""
    beside, settings = beside or Beside(), settings or Settings()
    claims = build_claims(evidence)
    found, problems = checked_account(evidence, claims, settings)
    found = by_place(scene_of(evidence, layout_of(evidence)), claims, found, settings, solve)
    steps = next_steps(evidence, claims, found, settings) if found.verdict != "free" else ()
    open_holders = [holder.name for holder in beside.holders if not holder.settled]
    if open_holders:
        steps += (NextStep(f"Settle the other holders: {', '.join(open_holders)}.", 0.5 * len(open_holders)),)
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
    """The next checks, those that remove most doubt per minute first."""
    proposals = {proposal.check.id: proposal for proposal in propose_checks(evidence, found)}
    quick = replace(settings, seconds=min(settings.seconds, SECONDS))
    advised = advise(claims, found, [proposal.check for proposal in proposals.values()], quick)
    steps = []
    for advice in advised[:MOST_STEPS]:
        proposal = proposals[advice.check]
        words, effort = proposal.check.words, proposal.check.effort_min
        steps.append(NextStep(words, effort, advice.check, advice.margin_if_free))
    if not steps:
        first = list(proposals.values())[:MOST_STEPS]
        steps = [NextStep(one.check.words, one.check.effort_min, one.check.id) for one in first]
    return tuple(steps)
