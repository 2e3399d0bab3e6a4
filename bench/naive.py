"""What a careful crew does without the tally: "free when everything agrees", and the checks it would make.

The rule, from shop practice (common practice, no source): somebody went round; at every place somebody saw it
empty or took it out, and nobody's last word there is that something is in; every step is ticked; the sources
print one number for each row; each kind was counted, and the trays hold what the rows say.
"""

from collections.abc import Iterator

from lastbolt.words.evidence import Evidence, Line
from lastbolt.words.quantity import Kind

IN = frozenset({"in", "slack", "broken off", "hollow dowel, bolt in"})


def everything_agrees(evidence: Evidence) -> bool:
    """Whether the rule calls the joint free."""
    return (
        bool(evidence.rounds)
        and not evidence.broken
        and all(step.state == "done" for step in evidence.steps)
        and all(_empty(evidence, place.id) for place in evidence.places)
        and all(len(_numbers(line)) <= 1 for line in evidence.lines)
        and all(_counted_right(evidence, kind) for kind in kinds(evidence))
    )


def kinds(evidence: Evidence) -> tuple[Kind, ...]:
    """The kinds of all rows that are wholly this joint's; of others a count proves nothing."""
    return tuple(dict.fromkeys(line.kind for line in evidence.lines if line.belongs == "wholly"))


def own_checks(evidence: Evidence) -> Iterator[tuple[str, Kind | None]]:
    """What the crew has a second person do: go round, then count kind by kind what was not yet right."""
    yield "round", None
    for kind in kinds(evidence):
        if not _counted_right(evidence, kind):
            yield "count", kind


def _empty(evidence: Evidence, place: str) -> bool:
    last_act = max((act.moment for act in evidence.acts if act.place == place), default=-1)
    acts = [act for act in evidence.acts if act.place == place and act.moment == last_act]
    if acts and acts[-1].did == "put in":
        return False
    last_words = {
        look.by: look.saw
        for look in sorted(evidence.looks, key=lambda look: look.moment)
        if look.place == place and look.moment > last_act and look.saw != "cannot see"
    }
    return bool(acts or last_words) and not IN.intersection(last_words.values())


def _numbers(line: Line) -> set[int]:
    if line.on_engine is not None:
        return {line.on_engine}
    quantities = [printed.quantity for printed in line.printed]
    return {q.low for q in quantities if q.low is not None and q.low == q.high}


def _counted_right(evidence: Evidence, kind: Kind) -> bool:
    """Whether the last complete count of all trays is the number that the rows print."""
    rows = [line for line in evidence.lines if line.kind == kind]
    numbers = [_numbers(line) for line in rows]
    if any(line.belongs != "wholly" for line in rows) or any(len(number) != 1 for number in numbers):
        return all(len(number) < 2 for number in numbers)
    whole = [
        c for c in evidence.counts if c.all_trays and c.complete_pieces and kind.matches(c.kind) == "yes"
    ]
    last = max(whole, key=lambda count: count.moment, default=None)
    return last is not None and last.pieces == sum(next(iter(number)) for number in numbers)
