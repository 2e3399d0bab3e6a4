"""The next steps as people read them: looks of one sort joined, whom it takes, and what it would settle.

An answer lists checks by what each is worth, so two of them may name the same places. To somebody at the
bench they are one walk with one lamp.
"""

import re

from msgspec.structs import replace

from lastbolt.tally.wording_steps import NOT_ALONE
from lastbolt.words.answer import Answer, NextStep, PlaceState
from lastbolt.words.place_runs import at_places, listed, with_runs

NAMED = re.compile(r"^Places? (?P<places>[^:]+): (?P<deed>.+)$", re.DOTALL)
WHO = re.compile(r"; best somebody who has not looked there yet\b")
ENOUGH = 2
"""With so many independent mistakes needed, the fasteners count as accounted for (docs/tally.md)."""


def next_shown(answer: Answer) -> tuple[NextStep, ...]:
    """The answer's next steps; looks that differ only by their places are one step, where the first stood."""
    labels = {state.label: state for state in answer.places}
    steps: list[NextStep] = []
    for step in answer.next_steps:
        at = next((i for i, earlier in enumerate(steps) if _alike(earlier, step, labels)), None)
        if at is None:
            steps.append(step)
        else:
            steps[at] = _joined(steps[at], step, labels)
    return tuple(_alone_said(step, len(steps)) for step in steps)


def whom_words(step: NextStep, answer: Answer) -> str:
    """Who may do it: anybody where nobody has looked, else best another person; empty for no look."""
    places = _places(step, {state.label: state for state in answer.places})
    if not WHO.search(step.words) or not places:
        return ""
    seen = [state.label for state in places if state.seen_by or state.glanced]
    fresh = [state.label for state in places if not (state.seen_by or state.glanced)]
    if not seen:
        return "Anybody can do it: nobody has looked there yet."
    if not fresh:
        return "Best another person than looked there before."
    return f"{_listed(seen)}: best another person than looked there before. {_listed(fresh)}: anybody."


def deed_words(step: NextStep, answer: Answer) -> str:
    """What to do; who does it stands beside it (`whom_words`) where that can be said."""
    return with_runs(WHO.sub("", step.words) if whom_words(step, answer) else step.words)


def then_words(step: NextStep, answer: Answer) -> str:
    """What it means if nothing is amiss there; empty if it settles nothing by itself, or more stands open.

    A holder may be a fastener that no count speaks of, so with any of them open nothing is promised.
    """
    margin = step.margin_if_it_agrees
    if margin is None or margin <= 0 or answer.unused:
        return ""
    if any(not holder.settled for holder in answer.holders):
        return ""
    if margin < ENOUGH:
        return "If nothing is amiss there, one more check is needed after it."
    return "If nothing is amiss there, no more fastener is in doubt."


def _alike(earlier: NextStep, step: NextStep, labels: dict[str, PlaceState]) -> bool:
    one, other = _deed(earlier), _deed(step)
    return bool(one) and one == other and bool(_places(earlier, labels)) and bool(_places(step, labels))


def _deed(step: NextStep) -> str:
    """What is to be done at the places it names; empty when it names none, or does more than look."""
    named = NAMED.match(step.words.replace(NOT_ALONE, "").strip())
    if named is None or ": " in named["deed"]:
        return ""
    return re.sub(r"\b(each|it)\b", "each", named["deed"])


def _places(step: NextStep, labels: dict[str, PlaceState]) -> tuple[PlaceState, ...]:
    """The places it names, all of them known; else none."""
    named = NAMED.match(step.words)
    if named is None:
        return ()
    names = re.split(r", | and ", named["places"])
    return tuple(labels[name] for name in names) if all(name in labels for name in names) else ()


def _joined(one: NextStep, other: NextStep, labels: dict[str, PlaceState]) -> NextStep:
    here = {state.label for state in (*_places(one, labels), *_places(other, labels))}
    named = [label for label in labels if label in here]
    margins = [m for m in (one.margin_if_it_agrees, other.margin_if_it_agrees) if m is not None]
    checks = dict.fromkeys((one.check, *one.also, other.check, *other.also))
    checks.pop(one.check)
    return replace(
        one,
        words=f"{at_places(named)}: {_deed(one)}",
        effort_min=one.effort_min + other.effort_min,
        margin_if_it_agrees=max(margins, default=None),
        also=tuple(checks),
        to_type=tuple(dict.fromkeys((*one.to_type, *other.to_type))),
    )


def _alone_said(step: NextStep, steps: int) -> NextStep:
    """Not enough by itself, where there are others: those below are wanted too."""
    words = step.words.replace(
        NOT_ALONE, "" if steps == 1 else "Not enough by itself: the steps below are wanted too."
    )
    return replace(step, words=words.strip())


def _listed(names: list[str]) -> str:
    return f"Place{'' if len(names) == 1 else 's'} {listed(names)}"
