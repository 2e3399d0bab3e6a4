"""The next steps as people read them: looks of one sort joined, whom it takes, and what it would settle.

An answer lists checks by what each is worth, so two of them may name the same places. To somebody at the
bench they are one walk with one lamp.
"""

from msgspec import Struct
from msgspec.structs import replace

from lastbolt.app.typed_places import said_of_places
from lastbolt.app.typed_steps import DOWEL_SEEN_AGAIN, NAME, SAID_OF_PLACES
from lastbolt.words.answer import Answer, NextStep, PlaceState
from lastbolt.words.place_runs import at_places, deed_at, to_type

FOUND = (*dict.fromkeys(DOWEL_SEEN_AGAIN.values()), *SAID_OF_PLACES.values())
"""What the lines of a check say of its places."""
ENOUGH = 2
"""With so many independent mistakes needed, the fasteners count as accounted for (docs/tally.md)."""


class StepShown(Struct, frozen=True):
    """A next step in sentences: what to do, and beside it who does it and what it would settle."""

    deed: str
    beside: str
    to_type: tuple[str, ...]


def next_shown(answer: Answer) -> tuple[StepShown, ...]:
    """The answer's next steps; looks that differ only by their places are one step, where the first stood."""
    labels = [state.label for state in answer.places]
    steps: list[NextStep] = []
    for step in answer.next_steps:
        at = next((i for i, earlier in enumerate(steps) if _alike(earlier, step)), None)
        if at is None:
            steps.append(step)
        else:
            steps[at] = _joined(steps[at], step, labels)
    return tuple(_shown(step, answer, last=len(steps) == 1) for step in steps)


def _shown(step: NextStep, answer: Answer, *, last: bool) -> StepShown:
    wanted = "Not enough by itself: the steps below are wanted too." if step.not_alone and not last else ""
    beside = (wanted, whom_words(step, answer), then_words(step, answer))
    return StepShown(step.words, " ".join(filter(None, beside)), step.to_type)


def whom_words(step: NextStep, answer: Answer) -> str:
    """Who may do it: anybody where nobody has looked, else best another person; empty if anybody."""
    places = [state for state in answer.places if state.label in step.places]
    if not step.new_eyes or not places:
        return ""
    seen = [state.label for state in places if _looked_at(state)]
    fresh = [state.label for state in places if not _looked_at(state)]
    if not seen:
        return "Anybody can do it: nobody has looked there yet."
    if not fresh:
        return "Best another person than looked there before."
    return f"{at_places(seen)}: best another person than looked there before. {at_places(fresh)}: anybody."


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


def _looked_at(state: PlaceState) -> bool:
    return bool(state.seen_by) or state.glanced


def _alike(earlier: NextStep, step: NextStep) -> bool:
    return bool(step.deed and step.places and earlier.places) and earlier.deed == step.deed


def _typed_of_all(one: NextStep, other: NextStep, labels: list[str]) -> tuple[str, ...]:
    """What to type of the joined places: one line for all of which the same is said."""
    lines = tuple(dict.fromkeys((*one.to_type, *other.to_type)))
    at: dict[str, set[str]] = {}
    for line in (line for line in lines if line != NAME):
        words = next((words for words in FOUND if line.endswith(f" {words}")), "")
        said = said_of_places(line)
        if not words or len(said) != 1:
            return lines
        at.setdefault(words, set()).update(said[0].labels)
    front = tuple(line for line in lines if line == NAME)
    ordered = ((words, [label for label in labels if label in named]) for words, named in at.items())
    return (*front, *(f"{to_type(named)} {words}" for words, named in ordered))


def _joined(one: NextStep, other: NextStep, labels: list[str]) -> NextStep:
    named = [label for label in labels if label in one.places or label in other.places]
    margins = [m for m in (one.margin_if_it_agrees, other.margin_if_it_agrees) if m is not None]
    checks = dict.fromkeys((one.check, *one.also, other.check, *other.also))
    checks.pop(one.check)
    return replace(
        one,
        words=deed_at(named, one.deed),
        effort_min=one.effort_min + other.effort_min,
        margin_if_it_agrees=max(margins, default=None),
        also=tuple(checks),
        to_type=_typed_of_all(one, other, named),
        places=tuple(named),
    )
