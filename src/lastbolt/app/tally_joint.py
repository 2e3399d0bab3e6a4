"""From the evidence about one joint to the answer people read.

`free` is never handed on before a second program, which shares no code with the solver, has added up its
certificate.
"""

from msgspec import Struct
from msgspec.structs import replace

from lastbolt.app.one_person import whoever_it_was
from lastbolt.app.papers_differ import papers_differ
from lastbolt.app.rows_nowhere import is_nowhere, step_to_find
from lastbolt.app.typed_asks import who_typed_it
from lastbolt.app.typed_steps import with_lines_to_type
from lastbolt.tally.build import build_claims
from lastbolt.tally.build_people import scene_of
from lastbolt.tally.checker import reasons_not_verified
from lastbolt.tally.checks import propose_checks
from lastbolt.tally.checks_together import propose_together
from lastbolt.tally.last_looks import look_again
from lastbolt.tally.layout import ELSEWHERE, NOWHERE_LISTED, layout_of
from lastbolt.tally.next_check import Horizon, advise
from lastbolt.tally.problems import certificate_refused, not_used, reserved_place
from lastbolt.tally.solve import Joint
from lastbolt.tally.spots import by_place, open_places, still_in
from lastbolt.tally.time_limit import TimeLimit
from lastbolt.tally.wording import Beside, word_answer
from lastbolt.tally.wording_steps import MISSED, PAPERWORK, Ranked, in_order, joined_steps, take_out_steps
from lastbolt.words.answer import Answer, NextStep
from lastbolt.words.claims import Account, Settings
from lastbolt.words.evidence import Evidence
from lastbolt.words.problem import Problem

SECONDS = 2.0


def tally_joint(evidence: Evidence, beside: Beside | None = None, settings: Settings | None = None) -> Answer:
    """The answer about this joint: verdict, sentence, next steps, suspicions, certificate."""
    beside, settings = beside or Beside(), settings or Settings()
    limit = TimeLimit(settings.all_seconds)
    readings = whoever_it_was(evidence)
    told = worst_of(readings, settings, limit)
    evidence, joint, whole, problems = told.evidence, told.joint, told.whole, told.problems
    scene = scene_of(evidence, layout_of(evidence))
    # Whom two words are from hides no contradiction between them.
    apart = scene_of(readings[0], layout_of(readings[0])) if len(readings) > 1 else scene
    again = look_again(apart, cleared=whole.verdict == "free")
    problems_told = (*beside.problems, *again.problems)
    asked = (*again.steps, *step_to_find(beside.holders, evidence.places), *papers_differ(evidence.lines))
    beside = replace(beside, problems=problems_told, next_steps=(*asked, *beside.next_steps))
    found = by_place(scene, joint, whole, settings)
    steps = next_steps(evidence, joint, whole, found) if found.verdict != "free" else ()
    open_holders = [holder for holder in beside.holders if not holder.settled and not is_nowhere(holder)]
    listed = bool(beside.holders) or beside.holders_asked
    # A clear joint asks for no more paperwork, and for no round that it does not rest on.
    unasked = (PAPERWORK, MISSED) if found.verdict == "free" else ()
    more = [step for step in beside.next_steps if step.check not in unasked]
    if len(readings) > 1 and found.verdict != "free":
        # What a step promises is promised for one of them.
        steps = tuple(replace(step, margin_if_it_agrees=None) for step in steps)
        asks = beside.typed and not still_in(scene)
        more = [who_typed_it(settles=told.names_count), *more] if asks else more
    ordered = in_order(steps, tuple(more), open_holders, listed=listed)
    if beside.typed:
        ordered = with_lines_to_type(ordered, evidence)
    unused = (*beside.unused, *not_used(beside.problems))
    shown = replace(
        beside, next_steps=ordered, problems=(*beside.problems, *problems), unused=unused,
        apart="" if unused else beside.apart,
    )  # fmt: skip
    return word_answer(evidence, joint.claims, _with_all_used(found, unused), shown)


class Reading(Struct, frozen=True):
    """The evidence with the unnamed one taken to be somebody, and the account of it.

    `names_count`: with the unnamed one as a further person there would be less doubt.
    """

    evidence: Evidence
    joint: Joint
    whole: Account
    problems: tuple[Problem, ...]
    names_count: bool = False


def worst_of(readings: tuple[Evidence, ...], settings: Settings, limit: TimeLimit) -> Reading:
    """The reading that allows least: free only if every one is, whoever the unnamed one was."""
    found = []
    for evidence in readings:
        joint = Joint(build_claims(evidence), settings, limit)
        found.append(Reading(evidence, joint, *checked_account(evidence, joint)))
    worst = min(found, key=lambda one: (one.whole.verdict == "free", _margin(one.whole)))
    return replace(worst, names_count=_margin(found[0].whole) > _margin(worst.whole))


def _margin(account: Account) -> float:
    return float("-inf") if account.margin is None else account.margin


def _with_all_used(account: Account, unused: tuple[str, ...]) -> Account:
    """The account, with `free` taken back when something that was said of this joint could not be used."""
    if not unused or account.verdict != "free":
        return account
    return replace(account, verdict="not shown", certificate=None, limits=(*account.limits, *unused))


def checked_account(evidence: Evidence, joint: Joint) -> tuple[Account, tuple[Problem, ...]]:
    """The solver's account, with `free` taken back unless its certificate is accepted."""
    reserved = [place.id for place in evidence.places if place.id in (NOWHERE_LISTED, ELSEWHERE)]
    found = joint.account()
    problems: list[Problem] = [reserved_place(place) for place in reserved]
    if found.verdict == "free":
        if found.certificate is None:
            reasons = ["there is none"]
        else:
            reasons = reasons_not_verified(joint.claims, joint.settings, found.certificate)
        problems += [certificate_refused(reasons)] if reasons else []
    if found.verdict == "free" and joint.limit.over():
        found = replace(
            found, verdict="not shown", certificate=None, limits=(*found.limits, joint.limit.words)
        )
    if problems:
        limits = (*found.limits, *(problem.what for problem in problems))
        found = replace(found, verdict="not shown", certificate=None, limits=limits)
    return found, tuple(problems)


def next_steps(evidence: Evidence, joint: Joint, whole: Account, by_place: Account) -> tuple[NextStep, ...]:
    """The next checks, those that remove most doubt per minute first, like ones joined.

    The doubt is that of the whole joint; `by_place` only adds places worth a look.
    """
    scene = scene_of(evidence, layout_of(evidence))
    unseen = open_places(scene)
    proposed = (*propose_together(scene, by_place, unseen), *propose_checks(evidence, by_place))
    proposals = {proposal.check.id: proposal for proposal in proposed}
    quick = replace(joint.settings, seconds=min(joint.settings.seconds, SECONDS))
    checks = [proposal.check for proposal in proposals.values()]
    exchange = None if joint.faults else joint.search.exchange
    asked = [one for one in proposed if one.sort == "look"]
    first = [one.check.id for one in asked if unseen.issuperset(one.places or (one.place,))]
    horizon = Horizon(first=frozenset(first), above=whole.margin, limit=joint.limit)
    advised = advise(joint.claims, whole, checks, quick, horizon, exchange)
    ranked = [Ranked(proposals[a.check], a.value, a.margin_if_free) for a in advised]
    if not ranked:
        ranked = [Ranked(proposal, 0.0, None) for proposal in proposals.values()]
    labels = {place.id: place.label for place in evidence.places}
    held = still_in(scene)
    looks = [one for one in ranked if not held.keys() & {one.proposal.place, *one.proposal.places}]
    return (*take_out_steps(held, labels), *joined_steps(looks, labels, unseen, whole.margin))
