"""The next steps as people read them: like checks joined into one, the most useful first."""

from collections.abc import Iterable, Iterator

from msgspec import Struct
from msgspec.structs import replace

from lastbolt.tally.checks import Proposal
from lastbolt.words.answer import HolderState, NextStep
from lastbolt.words.place_runs import at_places, deed_at

MOST_STEPS = 5
PAPERWORK = "paperwork"
"""The `check` of a step that only asks to write something down: it stands behind work at the bench."""
MISSED = "missed place"
"""The `check` of a step that asks for a place that a round missed."""
FIRST = "first"
"""The `check` of a step that comes before all others."""
OTHER_HOLDERS = (
    "Look for what else holds the joint: brackets, shaft-end nuts, circlips, dowels, tight fits, sealant. "
    "Name each, or say that there are none."
)
ROUND_WITH_RODS = "round with rods"
ROUNDS = ("round", ROUND_WITH_RODS)
"""One round is asked for at a time, with rods or without."""
TAKE_OUT = "take it out"
GET_OUT = "get the broken shank out"


class Ranked(Struct, frozen=True):
    """A check with what it is worth."""

    proposal: Proposal
    value: float
    margin: int | None


def joined_steps(
    ranked: Iterable[Ranked],
    labels: dict[str, str],
    open_places: frozenset[str] = frozenset(),
    margin_now: int | None = None,
) -> tuple[NextStep, ...]:
    """One step for each sort of check; looks that differ only by their place are one step.

    The places not accounted for come first, together; then what raises the margin if it agrees. If the first
    step does not raise it alone, it is marked so. Of looking and a rod at the same places only the better is
    kept: one comes after the other anyway.
    """
    now = margin_now or 0
    in_turn = sorted(ranked, key=lambda one: _turn(one, open_places, now))
    steps = list(_each_once(_alike(in_turn, labels, open_places), labels))
    alone = steps[0].margin_if_it_agrees if steps else None
    if alone is not None and alone <= now:
        steps[0] = replace(steps[0], not_alone=True)
    return tuple(steps)


def _alike(
    ranked: Iterable[Ranked], labels: dict[str, str], open_places: frozenset[str]
) -> Iterable[list[Ranked]]:
    """Checks that differ only by their place together, in the order of the walk."""
    groups: dict[tuple[object, ...], list[Ranked]] = {}
    for one in ranked:
        proposal = one.proposal
        like: tuple[object, ...] = (proposal.check.id,)
        if _looks_at(one, open_places) and not proposal.places:
            like = (proposal.sort,)
        elif proposal.place:
            like = (proposal.sort, round(one.value, 9))
        groups.setdefault(like, []).append(one)
    walked = {place: number for number, place in enumerate(labels)}
    for group in groups.values():
        group.sort(key=lambda one: walked.get(one.proposal.place, len(walked)))
    return groups.values()


def _each_once(groups: Iterable[list[Ranked]], labels: dict[str, str]) -> Iterator[NextStep]:
    """A step for each group: one round only, and no place that an earlier step names."""
    looked_at: set[str] = set()
    went_round = False
    for group in groups:
        first = group[0].proposal
        if first.sort in ROUNDS:
            if went_round:
                continue
            went_round = True
        if first.places:
            if not looked_at.issuperset(first.places):
                yield _all_of(group[0], labels)
                looked_at.update(first.places)
            continue
        here = [one for one in group if one.proposal.place not in looked_at]
        if first.place and not here:
            continue
        looked_at.update(one.proposal.place for one in here if one.proposal.place)
        yield _step(here, labels)


def _turn(one: Ranked, open_places: frozenset[str], now: int) -> tuple[bool, bool, bool]:
    """Looks at what is not accounted for, all of it together; what raises the margin; the rest as it is."""
    looks = _looks_at(one, open_places)
    raises = one.margin is not None and one.margin > now
    return not looks, not (looks and one.proposal.places), not raises


def _looks_at(one: Ranked, open_places: frozenset[str]) -> bool:
    places = one.proposal.places or (one.proposal.place,)
    return one.proposal.sort == "look" and open_places.issuperset(places)


def _all_of(one: Ranked, labels: dict[str, str]) -> NextStep:
    """A check of several places, named by the checks of each."""
    proposal = one.proposal
    made = _named(one, proposal.at, labels)
    if proposal.sort == ROUND_WITH_RODS:
        return replace(made, also=proposal.parts)
    first, *others = proposal.parts
    return replace(made, check=first, also=tuple(others))


def _step(group: list[Ranked], labels: dict[str, str]) -> NextStep:
    first = group[0]
    made = _named(first, (place for one in group for place in one.proposal.at), labels)
    if len(group) == 1:
        return made
    return replace(
        made,
        words=deed_at(made.places, made.deed),
        effort_min=made.effort_min * len(group),
        margin_if_it_agrees=None,
        also=tuple(one.proposal.check.id for one in group[1:]),
    )


def _named(one: Ranked, places: Iterable[str], labels: dict[str, str]) -> NextStep:
    check = one.proposal.check
    return NextStep(
        check.words,
        check.effort_min,
        check.id,
        one.margin,
        places=tuple(labels.get(place) or place for place in places),
        deed=one.proposal.deed,
        new_eyes=one.proposal.new_eyes,
    )


def in_order(
    checks: tuple[NextStep, ...],
    beside: tuple[NextStep, ...],
    open_holders: list[HolderState],
    *,
    listed: bool = True,
) -> tuple[NextStep, ...]:
    """At most five: the best check, work at the bench, further checks; then other holders and paperwork."""
    start = [step for step in beside if step.check == FIRST]
    bench = [step for step in beside if step.check not in (PAPERWORK, FIRST)]
    last = [step for step in beside if step.check == PAPERWORK]
    if open_holders:
        named = ", ".join(holder.name for holder in open_holders)
        words = f"Settle the other holders: {named}. Type only what somebody has looked at."
        typed = tuple(f"holder {holder.name}: {holder.answer}" for holder in open_holders)
        at = tuple(label for holder in open_holders for label in holder.places)
        last.insert(0, NextStep(words, 0.5 * len(open_holders), to_type=typed, places=at))
    elif not listed and len(start) + len(checks) + len(bench) + len(last) < MOST_STEPS:
        last.insert(0, NextStep(OTHER_HOLDERS, 2.0, to_type=("no other holders",)))
    first = [*start, *checks[:1], *bench, *checks[1:]]
    return (*first[: max(1, MOST_STEPS - len(last))], *last)[:MOST_STEPS]


def take_out_steps(held: dict[str, str], labels: dict[str, str]) -> tuple[NextStep, ...]:
    """What is still in comes out before anybody looks there again. `held`: place -> "in" or "broken"."""
    steps = []
    for how, deed in (("in", TAKE_OUT), ("broken", GET_OUT)):
        named = [labels.get(place) or place for place, state in held.items() if state == how]
        if named:
            words = f"{at_places(named)}: {deed}, then look into the hole from both sides."
            typed = ("by NAME", f"{', '.join(named)} taken out")
            at = tuple(named)
            steps.append(NextStep(words, 1.0 * len(named), "take out", to_type=typed, places=at))
    return tuple(steps)
