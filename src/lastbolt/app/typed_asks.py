"""What typed lines leave open, as next steps: lines not understood, the list's end, rounds with a gap."""

from collections.abc import Collection, Mapping, Sequence

from lastbolt.app.typed_steps import said_when_nothing_is_amiss
from lastbolt.app.typed_words import FIRST_BY
from lastbolt.tally.wording_steps import FIRST, MISSED, PAPERWORK
from lastbolt.words.answer import NextStep
from lastbolt.words.evidence import Act, EvidencePlace, Line, Look, RoundMade
from lastbolt.words.place_runs import listed


def unused_steps(unused: Sequence[tuple[int, str]]) -> tuple[NextStep, ...]:
    """One step for all lines that were not understood: say them again, and strike them together."""
    if not unused:
        return ()
    numbers = ", ".join(str(number) for number, _ in unused)
    told = "; ".join(words for _, words in unused)
    it = ("it", "it") if len(unused) == 1 else ("each of them", "them")
    words = f"Say {it[0]} in other words ({told}), then strike {it[1]}."
    return (NextStep(words, 0.2 * len(unused), FIRST, to_type=(f"strike line {numbers}",)),)


def who_typed_it(*, settles: bool) -> NextStep:
    """Asks for the name of whoever typed what stands before the first one; `settles`: it may be enough."""
    words = "Who typed what stands before the first name? Until it is said, it may be one of those named."
    return NextStep(words, 0.1, FIRST, to_type=(f"{FIRST_BY} NAME",), not_alone=not settles)


def list_steps(
    lines: Sequence[Line], ended_by: Collection[str], rounds: Sequence[RoundMade]
) -> tuple[NextStep, ...]:
    """What is still to be said of the typed list: its end; or that another compared it."""
    if not lines:
        return ()
    if not ended_by:
        words = 'Type "end of list" when the paper list was typed to its end.'
        return (NextStep(words, 0.2, PAPERWORK, to_type=("by NAME", "end of list")),)
    went = {round_.by for round_ in rounds}
    copied = {by for line in lines for printed in line.printed for by in printed.by}
    if not copied or not copied <= went:
        return ()
    names = " and ".join(sorted(copied))
    words = f"{names} went round and typed the list; let another compare it with the paper, row by row."
    return (NextStep(words, 1.0, PAPERWORK, to_type=("by NAME", "list compared")),)


def gap_step(
    rounds: Sequence[RoundMade],
    left_out: Mapping[str, tuple[str, ...]],
    said: tuple[Sequence[Look], Sequence[Act]],
    places: Sequence[EvidencePlace],
) -> tuple[NextStep, ...]:
    """The first round that missed a place, unless the place has been answered for since."""
    looks, acts = said
    done = {round_.by for round_ in rounds if round_.event not in left_out}
    by_label = {place.label: place for place in places}
    for round_ in rounds:
        missed = left_out.get(round_.event, ())
        at = tuple(label for label in missed if not _answered(round_, by_label[label].id, looks, acts))
        if at and round_.by not in done:
            words = (
                f"{round_.by} went round ({round_.event}) without a word of place {listed(at)}: look there."
            )
            here = [by_label[label] for label in at]
            typed = (f"by {round_.by}", *said_when_nothing_is_amiss(looks, here), "went round")
            return (NextStep(words, 1.0, MISSED, to_type=typed, places=at),)
    return ()


def _answered(round_: RoundMade, place: str, looks: Sequence[Look], acts: Sequence[Act]) -> bool:
    """Whether somebody looked there on purpose or took it out, or the same person said more of it since."""
    if any(look.place == place and look.guided and look.saw != "cannot see" for look in looks):
        return True
    return any(act.place == place and act.did == "took out" and act.by == round_.by for act in acts)
